import { WORKS } from '../due/due.ts';
import { findDay, findMoment } from '../units/index.ts';
import { CONCERNS, HARD_SURFACES, PLANTINGS } from '../words.ts';
import { TRAVEL_SOURCES } from './officeBodies.ts';
import {
  type Check,
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
  text,
} from './shape.ts';

export const moment: Check = (value, path, out) => {
  if (typeof value !== 'string' || findMoment(value) === undefined) {
    malformed(out, path, 'is not an RFC 3339 time with an offset', 'write it like 2026-03-04T10:15:00-05:00');
  }
};
export const day: Check = (value, path, out) => {
  if (typeof value !== 'string' || findDay(value) === undefined)
    malformed(out, path, 'is not a day', 'write it as YYYY-MM-DD');
};
const hour: Check = (value, path, out) => {
  if (typeof value !== 'string' || !/^([01]\d|2[0-3]):[0-5]\d$|^24:00$/.test(value))
    malformed(out, path, 'is not a time of day', 'write it as HH:MM, from 00:00 to 24:00');
};
export const place = fields({ latitude: numberFrom(-90, 90), longitude: numberFrom(-180, 180) });

/** Two fields of which the second must not come before the first; both sort as text. */
function inOrder(first: string, second: string, check: Check): Check {
  return (value, path, out) => {
    check(value, path, out);
    if (!isFields(value)) return;
    const a = value[first];
    const b = value[second];
    if (typeof a === 'string' && typeof b === 'string' && b < a)
      malformed(out, `${path}.${second}`, `comes before ${first}`, 'swap the two or correct one');
  };
}

const weekday = numberFrom(1, 7, true);
export const visitHours = inOrder(
  'from',
  'to',
  fields({ weekdays: listOf(weekday, 7), from: hour, to: hour }),
);

const outline: Check = (value, path, out) => {
  listOf(point)(value, path, out);
  if (Array.isArray(value) && value.length < 3)
    malformed(out, path, 'has fewer than three corners', 'draw at least three');
};
const line: Check = (value, path, out) => {
  listOf(point)(value, path, out);
  if (Array.isArray(value) && value.length < 2)
    malformed(out, path, 'has fewer than two points', 'draw at least two');
};
export const holes = listOf(outline, 100);

const clearance = numberFrom(0, 1000);
const lineKeepOut = fields({ id: filled, path: line, clearanceMetres: clearance });
const spotKeepOut = fields({ id: filled, at: point, clearanceMetres: clearance });
const areaKeepOut = fields({ id: filled, outline });
const keepOut: Check = (value, path, out) => {
  const kind = isFields(value) ? value['kind'] : undefined;
  if (kind === 'utility_line') lineKeepOut(value, path, out);
  else if (kind === 'well' || kind === 'drain') spotKeepOut(value, path, out);
  else if (kind === 'treated_soil') areaKeepOut(value, path, out);
  else oneOf(['utility_line', 'well', 'drain', 'treated_soil'])(kind, `${path}.kind`, out);
};

export const siteDrawn = fields({
  hardSurfaces: listOf(fields({ id: filled, kind: oneOf(HARD_SURFACES), outline }), 1000),
  keepOuts: listOf(keepOut, 1000),
  plantings: listOf(fields({ id: filled, kind: oneOf(PLANTINGS), outline }), 1000),
  concerns: listOf(fields({ id: filled, kind: oneOf(CONCERNS), at: point, note: text }), 1000),
  fences: listOf(fields({ id: filled, path: line }), 1000),
  gates: listOf(fields({ id: filled, at: point, widthMetres: numberFrom(0.1, 100) }), 1000),
  parking: orNull(point),
});

export const visitAsked = inOrder(
  'earliest',
  'latest',
  fields({
    ask: filled,
    earliest: day,
    latest: day,
    minutes: numberFrom(1, 1440),
    why: filled,
    urgent: flag,
  }),
);
export const visitPromised = inOrder(
  'from',
  'to',
  fields({ day: orNull(day), from: hour, to: hour, how: text }),
);
const sha256: Check = (value, path, out) => {
  if (typeof value !== 'string' || !/^[0-9a-f]{64}$/.test(value))
    malformed(out, path, 'is not a SHA-256 in hexadecimal', 'give 64 digits 0 to 9, a to f');
};
export const signature = fields({ name: filled, picture: sha256 });
export const paperSent = fields({
  paper: filled,
  visit: orNull(filled),
  to: filled,
  contentHash: orNull(sha256),
  outcome: oneOf(['sent', 'refused']),
  detail: text,
});
export const linkMade = fields({
  link: filled,
  secretHash: sha256,
  purpose: oneOf(['property page', 'property calendar', 'round calendar']),
  person: orNull(filled),
  expiresAt: orNull(moment),
});

export const technicianSet = fields({
  person: filled,
  name: filled,
  branch: filled,
  licenceNumber: orNull(filled),
  start: place,
  end: place,
  hours: listOf(inOrder('from', 'to', fields({ weekday, from: hour, to: hour })), 7),
  breakMinutes: numberFrom(0, 240, true),
  mostOvertimeMinutes: numberFrom(0, 720, true),
  skills: listOf(filled, 50),
  active: flag,
});
export const technicianAway = inOrder(
  'from',
  'to',
  fields({ person: filled, from: day, to: day, why: text }),
);
export const branchClosed = inOrder('from', 'to', fields({ branch: filled, from: day, to: day, why: text }));

const roundVisit = fields({
  visit: filled,
  property: filled,
  startsAt: moment,
  endsAt: moment,
  driveMinutes: numberFrom(0, 1440),
  driveMetres: numberFrom(0, 10_000_000),
  works: listOf(fields({ station: filled, work: oneOf(WORKS) })),
  asks: listOf(filled, 100),
  frozen: flag,
});
export const roundPublished = fields({
  plan: filled,
  branch: filled,
  person: filled,
  day,
  startsAt: moment,
  endsAt: moment,
  breakMinutes: numberFrom(0, 240),
  travel: oneOf(TRAVEL_SOURCES),
  visits: listOf(roundVisit, 200),
});

export const partSet = fields({
  part: filled,
  name: filled,
  packSize: numberFrom(1, 100_000, true),
  leadDays: numberFrom(0, 1000, true),
  baitGrams: orNull(numberFrom(0, 100_000)),
});
/** A day that every year has: not 29 February. */
const dayOfAnyYear: Check = (value, path, out) => {
  if (typeof value !== 'string' || findDay(`2001-${value}`) === undefined)
    malformed(out, path, 'is not a day of every year', 'write it as MM-DD, such as 01-20');
};
export const soilSeasonSet = fields({
  branch: filled,
  season: orNull(
    fields({
      meanCelsius: numberFrom(-20, 45),
      amplitudeCelsius: numberFrom(0, 40),
      coldestOn: dayOfAnyYear,
      depthMetres: numberFrom(0, 5),
      diffusivityMm2PerSecond: numberFrom(0.05, 3),
      forageFromCelsius: numberFrom(-10, 45),
      source: filled,
    }),
  ),
});
const count = numberFrom(0, 1_000_000, true);
const stockFields = {
  place: filled,
  part: filled,
  count,
  lot: orNull(filled),
  usableUntil: orNull(day),
};
export const stock = fields(stockFields);
export const stockReceived = fields({ ...stockFields, order: optional(filled) });
export const partsOrdered = inOrder(
  'orderedOn',
  'expectedOn',
  fields({
    order: filled,
    place: filled,
    part: filled,
    count: numberFrom(1, 1_000_000, true),
    orderedOn: day,
    expectedOn: day,
    reference: text,
  }),
);
export const stockMoved = fields({ from: filled, to: filled, part: filled, count, lot: orNull(filled) });
