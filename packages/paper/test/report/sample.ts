import {
  type AnyFact,
  type Application,
  addMonths,
  type Day,
  DEMO_PROFILE,
  type DueWork,
  type Finding,
  foldProperty,
  getDay,
  type OpenedFinding,
  type PropertyBody,
  type PropertyState,
  type RoundBody,
  STATION_MODELS,
  type StationModel,
  type StationSeenBody,
  type StructureBody,
} from '@sillwatch/trade';
import type { FirmCard } from '../../src/report/firm.ts';

/** An invented firm, property, product and visit; nothing here comes from a label. */
export const FIRM: FirmCard = {
  name: 'Invented Sill Care',
  lines: ['1 Practice Road, Example Springs, FL 00000', 'Licence of the firm: INV-0001 (invented)'],
};
export const VISIT = 'visit-1';
export const VISIT_DAY = getDay('2026-03-04');
export const WRITTEN_AT = '2026-03-04T17:00:00-05:00';
export const MODELS: Readonly<Record<string, StationModel>> = Object.fromEntries(
  STATION_MODELS.map((model) => [model.id, model]),
);
/** Every number in it is invented and says so. */
export const PROFILE = DEMO_PROFILE;
const HOUSE = 'structure-1-house';
const GARAGE = 'structure-2-garage';
const PROPERTY = 'property-1';

export const PROPERTY_BODY: PropertyBody = {
  name: 'Marsh Lane 7',
  branch: 'branch-1',
  address: { street: '7 Marsh Lane', town: 'Example Springs', state: 'FL', postcode: '00000' },
  customer: { name: 'Ida Example', email: null, phone: null },
  timeZone: 'America/New_York',
  profile: 'profile-1',
  agreement: null,
  accessNotes: '',
  hazards: '',
  position: null,
};

let made = 0;
/** A fact of the sample firm; ids and clocks count up in the order of the calls. */
export function fact(kind: string, body: unknown, over: Partial<AnyFact> & { readonly at: string }): AnyFact {
  made += 1;
  return {
    id: `fact-${String(made).padStart(4, '0')}`,
    firm: 'firm-1',
    property: PROPERTY,
    station: null,
    by: 'account-1',
    device: 'device-1',
    seq: made,
    clock: `${String(made).padStart(15, '0')}.00000`,
    kind,
    body,
    ...over,
  };
}

export const APPLICATION: Application = {
  productName: 'Practice Bait (invented)',
  epaRegistrationNumber: '99999-1',
  grams: 35,
  location: 'in-ground station, east wall',
  areaTreated: '1 station',
  site: 'residential structure, exterior perimeter',
  applicatorName: 'Pat Example',
  certificationNumber: 'CERT-INV-7',
  appliedUnderSupervisionBy: null,
};

const SOUND: OpenedFinding = {
  reach: 'opened',
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'sound',
  housing: 'sound',
  occupants: 'none',
};
const FINDINGS: Readonly<Record<number, Finding>> = {
  3: { ...SOUND, termites: 'live on bait', baitLeft: 'half' },
  7: { ...SOUND, termites: 'live on monitor' },
  9: { ...SOUND, termites: 'signs only', monitor: 'eaten' },
  12: { reach: 'blocked', why: 'parked trailer <over> the cap' },
  15: { ...SOUND, housing: 'cap damaged', occupants: 'ants' },
};

export function seenBody(number: number): StationSeenBody {
  const finding = FINDINGS[number] ?? SOUND;
  const serviced = finding.reach === 'opened' && !finding.termites.startsWith('live');
  const baited = number === 7;
  return {
    visit: VISIT,
    task: 'yearly service',
    finding,
    work: {
      yearlyServiceDone: serviced,
      baseMonitorLifted: serviced,
      cleanedOut: serviced,
      fitted: serviced
        ? [
            { slot: 'base', insert: 'monitor' },
            { slot: 'top', insert: 'monitor' },
          ]
        : baited
          ? [{ slot: 'top', insert: 'bait' }]
          : [],
      withdrawn: [],
      partsUsed: serviced ? { 'base-monitor': 1, 'top-monitor': 1 } : baited ? { 'bait-insert': 1 } : {},
      minutes: 4,
    },
    application: baited ? APPLICATION : null,
    note: number === 15 ? 'Cap cracked by a mower; fits until next time.' : '',
    photos: [],
  };
}

export function stationId(number: number): string {
  return `station-${number}`;
}

/** Property, structures, `count` stations, one visit to all but the last, and its closing. */
export function sampleFacts(count = 24): readonly AnyFact[] {
  const at = (minute: number) =>
    `2026-03-04T${String(8 + Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}:00-05:00`;
  const facts = [
    fact('property added', PROPERTY_BODY, { at: '2024-02-01T09:00:00-05:00' }),
    fact('structure added', structure(HOUSE, 'House'), { at: '2024-02-01T09:01:00-05:00' }),
    fact('structure added', structure(GARAGE, 'Garage'), { at: '2024-02-01T09:02:00-05:00' }),
  ];
  for (let number = 1; number <= count; number += 1) {
    facts.push(
      fact(
        'station installed',
        {
          structure: structureOf(number, count),
          number,
          tag: `T${number}`,
          model: 'two-part',
          position: null,
          auxiliary: false,
          visit: null,
          inserts: [],
          application: null,
        },
        { at: '2024-02-01T10:00:00-05:00', station: stationId(number) },
      ),
    );
  }
  for (let number = 1; number < count; number += 1) {
    facts.push(fact('station seen', seenBody(number), { at: at(number * 4), station: stationId(number) }));
  }
  facts.push(
    fact(
      'visit closed',
      {
        visit: VISIT,
        task: 'yearly service',
        technician: 'Pat Example',
        licenceNumber: 'LIC-INV-42',
        startedAt: at(0),
        note: 'Side gate was open.',
      },
      { at: at(count * 4) },
    ),
  );
  return facts;
}

function structure(id: string, name: string): StructureBody {
  return { structure: id, name, foundation: 'slab', outline: null };
}
function structureOf(number: number, count: number): string {
  return number > count - 6 ? GARAGE : HOUSE;
}

/** The state that the facts above come to. */
export function sampleProperty(count = 24): PropertyState {
  return foldProperty(sampleFacts(count));
}

export function sampleDue(count = 24): DueWork {
  const item = (number: number, work: 'check' | 'baited check' | 'missed station', target: Day) => ({
    property: PROPERTY,
    structure: structureOf(number, count),
    station: stationId(number),
    work,
    earliest: VISIT_DAY,
    target,
    latest: addMonths(target, 1),
    row: 'sample',
    countedFrom: VISIT_DAY,
  });
  return {
    items: Array.from({ length: count }, (_, index) => {
      const number = index + 1;
      if (number === 3 || number === 7) return item(number, 'baited check', addMonths(VISIT_DAY, 1));
      if (number === 12) return item(number, 'missed station', addMonths(VISIT_DAY, 0));
      return item(number, 'check', addMonths(VISIT_DAY, 3));
    }),
    held: [
      {
        property: PROPERTY,
        structure: HOUSE,
        station: stationId(3),
        latest: addMonths(VISIT_DAY, 3),
        feedingSince: VISIT_DAY,
      },
    ],
    clearStructures: [],
  };
}

/** A round of the sample technician: the property above, and one that no fact tells of. */
export function sampleRound(count = 24): RoundBody {
  return {
    plan: 'plan-1',
    branch: 'branch-1',
    person: 'account-1',
    day: '2026-06-03',
    startsAt: '2026-06-03T07:45:00-04:00',
    endsAt: '2026-06-03T15:10:00-04:00',
    breakMinutes: 30,
    travel: 'great circle',
    visits: [
      {
        visit: 'visit-2',
        property: PROPERTY,
        startsAt: '2026-06-03T08:10:00-04:00',
        endsAt: '2026-06-03T09:40:00-04:00',
        driveMinutes: 25,
        driveMetres: 16_093.44,
        works: [
          ...sampleDue(count).items.map(({ station, work }) => ({ station, work })),
          { station: stationId(5), work: 'yearly service' as const },
        ],
        asks: [],
        frozen: false,
      },
      {
        visit: 'visit-3',
        property: 'property-gone',
        startsAt: '2026-06-03T10:00:00-04:00',
        endsAt: '2026-06-03T10:20:00-04:00',
        driveMinutes: 12.4,
        driveMetres: 9000,
        works: [],
        asks: [],
        frozen: false,
      },
    ],
  };
}

/** A copy of the sample property with what the office knows of it. */
export function officeProperty(count = 24, over: Partial<PropertyBody> = {}): PropertyState {
  const state = sampleProperty(count);
  return {
    ...state,
    body: {
      ...PROPERTY_BODY,
      agreement: { startsOn: '2024-04-01', renewsOn: '2026-04-01' },
      accessNotes: 'Gate code 0000 (invented).',
      hazards: 'Buried power line along the north wall.',
      customer: { name: 'Ida Example', email: 'ida@example.invalid', phone: '555-0100' },
      ...over,
    },
  };
}

export function sampleWorkList(count = 24) {
  return {
    firm: FIRM,
    round: sampleRound(count),
    personName: 'Pat Example',
    properties: new Map([[PROPERTY, officeProperty(count)]]),
    profiles: new Map([[PROPERTY, PROFILE]]),
    load: [
      { part: 'base-monitor', name: 'base monitor', count: 26 },
      { part: 'own-bait', name: 'bait of our own', count: 4 },
    ],
    writtenAt: WRITTEN_AT,
  };
}

export function sampleRenewal(count = 24) {
  return {
    firm: FIRM,
    property: officeProperty(count),
    facts: sampleFacts(count),
    profile: PROFILE,
    due: sampleDue(count),
    asOf: VISIT_DAY,
    writtenAt: WRITTEN_AT,
  };
}
