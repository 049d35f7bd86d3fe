import { checkProfile } from '../profile/checkProfile.ts';
import { isEpaRegistrationNumber } from '../profile/epaNumber.ts';
import {
  BAIT_LEFT,
  FOUNDATIONS,
  HOUSING_CONDITIONS,
  HOUSING_REPAIRS,
  INSERTS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  REACHES,
  TASKS,
  TERMITE_FINDINGS,
} from '../words.ts';
import type { FactKind } from './fact.ts';
import * as office from './officeChecks.ts';
import {
  anything,
  type Check,
  countsByName,
  fields,
  filled,
  flag,
  isFields,
  listOf,
  malformed,
  numberFrom,
  oneOf,
  optional,
  orNull,
  point,
  type ShapeProblem,
  someFields,
  text,
} from './shape.ts';

const timeZone: Check = (value, path, out) => {
  if (typeof value !== 'string' || !/^[A-Za-z][A-Za-z0-9+_-]*(\/[A-Za-z0-9+_-]+)*$/.test(value)) {
    malformed(out, path, 'is not a time zone', 'name an IANA zone, such as America/New_York');
  }
};

const insert = fields({ slot: filled, insert: oneOf(INSERTS) });
const seenFinding = fields({
  termites: oneOf(TERMITE_FINDINGS),
  baitLeft: oneOf(BAIT_LEFT),
  monitor: oneOf(MONITOR_CONDITIONS),
  housing: oneOf(HOUSING_CONDITIONS),
  occupants: oneOf(OCCUPANTS),
});
const finding: Check = (value, path, out) => {
  if (!isFields(value)) return malformed(out, path, 'is not an object', 'say what was seen');
  oneOf(REACHES)(value['reach'], `${path}.reach`, out);
  if (value['reach'] === 'opened') seenFinding(value, path, out);
  else filled(value['why'], `${path}.why`, out);
};
const work = fields({
  repairs: optional(listOf(oneOf(HOUSING_REPAIRS), HOUSING_REPAIRS.length)),
  yearlyServiceDone: flag,
  baseMonitorLifted: flag,
  cleanedOut: flag,
  fitted: listOf(insert, 20),
  withdrawn: listOf(filled, 20),
  partsUsed: countsByName,
  minutes: orNull(numberFrom(0, 1440)),
});

/** The words of 7 CFR 110.3(a) for each field of an application; the day is the fact's own. */
const LEGAL_FIELDS: Readonly<Record<string, string>> = {
  productName: 'the brand or product name',
  epaRegistrationNumber: 'the EPA registration number',
  grams: 'the total amount applied, in grams',
  location: 'the location of the application',
  areaTreated: 'the size of the area treated',
  site: 'the crop, commodity, stored product or site',
  applicatorName: 'the name of the certified applicator',
  certificationNumber: 'the certification number of the certified applicator',
};

const application: Check = (value, path, out) => {
  if (!isFields(value))
    return malformed(out, path, 'is not an object', 'give the fields of the application record');
  const missing = (name: string, detail: string): void => {
    out.push({
      path: `${path}.${name}`,
      code: 'legal field missing',
      detail,
      remedy: `enter ${LEGAL_FIELDS[name] ?? name}: 7 CFR 110.3(a) asks for it`,
    });
  };
  for (const name of Object.keys(LEGAL_FIELDS)) {
    const given = value[name];
    if (name === 'grams') {
      if (typeof given !== 'number' || !(given > 0) || given > 1_000_000)
        missing(name, 'is not an amount above 0');
    } else if (typeof given !== 'string' || given.trim() === '') missing(name, 'is empty');
    else if (name === 'epaRegistrationNumber' && !isEpaRegistrationNumber(given)) {
      missing(
        name,
        `${JSON.stringify(given)} does not have the form of one (company-product, or company-product-distributor)`,
      );
    }
  }
  const supervised = value['appliedUnderSupervisionBy'];
  if (supervised !== null) filled(supervised, `${path}.appliedUnderSupervisionBy`, out);
};

/** Bait that goes in needs its record; a record without bait is malformed. */
function baitNeedsRecord(
  inserts: unknown,
  record: unknown,
  elsewhere: unknown,
  path: string,
  out: ShapeProblem[],
): void {
  const hasBait =
    Array.isArray(inserts) && inserts.some((each) => isFields(each) && each['insert'] === 'bait');
  if (!hasBait || (record !== null && record !== undefined)) return;
  if (typeof elsewhere === 'string' && elsewhere.trim() !== '') return;
  out.push({
    path: `${path}.application`,
    code: 'legal field missing',
    detail: 'bait was put in and no application record comes with it',
    remedy:
      'enter the application record (7 CFR 110.3), or for an imported visit say where its record is kept',
  });
}

/** An imported visit whose pesticide record was kept elsewhere says where; absent on what is recorded here. */
const recordKeptElsewhere: Check = (value, path, out) => {
  if (value !== undefined && value !== null) filled(value, path, out);
};

const seen: Check = (value, path, out) => {
  fields({
    visit: filled,
    task: oneOf(TASKS),
    finding,
    work,
    application: orNull(application),
    note: text,
    photos: listOf(text, 50),
    recordKeptElsewhere,
  })(value, path, out);
  if (!isFields(value)) return;
  const done = value['work'];
  const found = value['finding'];
  baitNeedsRecord(
    isFields(done) ? done['fitted'] : [],
    value['application'],
    value['recordKeptElsewhere'],
    path,
    out,
  );
  if (isFields(found) && isFields(done) && found['reach'] !== 'opened') {
    const isClaimed =
      done['yearlyServiceDone'] === true ||
      done['baseMonitorLifted'] === true ||
      done['cleanedOut'] === true ||
      (Array.isArray(done['fitted']) && done['fitted'].length > 0);
    if (isClaimed)
      malformed(
        out,
        `${path}.work`,
        'claims work in a station that nobody opened',
        'record the station as opened, or take the work out',
      );
  }
};

const installed: Check = (value, path, out) => {
  fields({
    structure: filled,
    number: numberFrom(1, 100_000, true),
    tag: orNull(filled),
    model: filled,
    position: orNull(point),
    auxiliary: flag,
    visit: orNull(filled),
    inserts: listOf(insert, 20),
    application: orNull(application),
    recordKeptElsewhere,
  })(value, path, out);
  if (isFields(value))
    baitNeedsRecord(value['inserts'], value['application'], value['recordKeptElsewhere'], path, out);
};

const replaced: Check = (value, path, out) => {
  fields({
    model: filled,
    why: filled,
    inserts: listOf(insert, 20),
    application: orNull(application),
    recordKeptElsewhere,
  })(value, path, out);
  if (isFields(value))
    baitNeedsRecord(value['inserts'], value['application'], value['recordKeptElsewhere'], path, out);
};

const propertyFields: Readonly<Record<string, Check>> = {
  name: filled,
  branch: filled,
  address: fields({ street: text, town: text, state: text, postcode: text }),
  customer: fields({ name: text, email: orNull(text), phone: orNull(text) }),
  timeZone,
  profile: filled,
  agreement: orNull(fields({ startsOn: office.day, renewsOn: office.day })),
  accessNotes: text,
  hazards: text,
  position: orNull(office.place),
  visitHours: optional(orNull(office.visitHours)),
  skills: optional(listOf(filled, 50)),
  language: optional(filled),
};

const profile: Check = (value, path, out) => {
  for (const problem of checkProfile(value)) {
    malformed(out, problem.path === '' ? path : `${path}.${problem.path}`, problem.reason, problem.remedy);
  }
};

/** The check of each known kind's body. Typed by the kinds, so that a new one is not forgotten here. */
export const BODY_CHECKS: { readonly [K in FactKind]: Check } = {
  'property added': fields(propertyFields),
  'property changed': someFields(propertyFields),
  'structure added': fields({
    structure: filled,
    name: filled,
    foundation: oneOf(FOUNDATIONS),
    outline: orNull(listOf(point)),
    holes: optional(office.holes),
  }),
  'structure removed': fields({ structure: filled, why: filled }),
  'site drawn': office.siteDrawn,
  'station installed': installed,
  'station moved': fields({ position: point, why: text }),
  'station tagged': fields({ tag: filled }),
  'station replaced': replaced,
  'station removed': fields({ why: filled }),
  'station seen': seen,
  'visit closed': fields({
    visit: filled,
    task: oneOf(TASKS),
    technician: filled,
    licenceNumber: filled,
    startedAt: office.moment,
    note: text,
    signature: optional(office.signature),
    asksSettled: optional(listOf(filled, 100)),
  }),
  'visit asked': office.visitAsked,
  'ask withdrawn': fields({ ask: filled, why: text }),
  'visit promised': office.visitPromised,
  'paper sent': office.paperSent,
  'link made': office.linkMade,
  'link withdrawn': fields({ link: filled }),
  'note added': fields({ text: filled }),
  'fact corrected': fields({ corrects: filled, why: filled, body: anything, at: orNull(office.moment) }),
  'profile set': profile,
  'model set': fields({
    id: filled,
    name: filled,
    layout: oneOf(['two-part monitor', 'one-part monitor', 'always baited']),
    slots: listOf(fields({ id: filled, label: filled, holds: listOf(oneOf(INSERTS), 2), isBase: flag }), 10),
    parts: fields({
      baseMonitor: orNull(filled),
      topMonitor: orNull(filled),
      bait: orNull(filled),
      cap: filled,
      housing: filled,
    }),
  }),
  'branch added': fields({ branch: filled, name: filled, timeZone }),
  'technician set': office.technicianSet,
  'technician away': office.technicianAway,
  'branch closed': office.branchClosed,
  'round published': office.roundPublished,
  'part set': office.partSet,
  'soil season set': office.soilSeasonSet,
  'stock counted': office.stock,
  'parts ordered': office.partsOrdered,
  'order cancelled': fields({ order: filled, why: filled }),
  'stock received': office.stockReceived,
  'stock moved': office.stockMoved,
};

function isFactKind(kind: string): kind is FactKind {
  return Object.hasOwn(BODY_CHECKS, kind);
}

/** What is wrong with the body of a known kind; nothing is ever wrong with an unknown one. */
export function checkBody(kind: string, body: unknown, path = 'body'): readonly ShapeProblem[] {
  const out: ShapeProblem[] = [];
  if (isFactKind(kind)) BODY_CHECKS[kind](body, path, out);
  return out;
}
