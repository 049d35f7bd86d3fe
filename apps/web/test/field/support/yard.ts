import { createIdMaker } from '@sillwatch/server';
import {
  type AnyFact,
  DEMO_PROFILE,
  type Fact,
  type FactHead,
  type Finding,
  type PropertyBody,
  type StationSeenBody,
} from '@sillwatch/trade';

export const STATIONS = 24;
export const PROPERTY = 'yard-1';
export const stationOf = (number: number): string => `station-${number}`;

const newId = createIdMaker(Date.now);
const START = Date.UTC(2026, 0, 10, 15);

/** An invented property with a ring of 24 stations, as an office device wrote it from `start` on, ms since 1970; with label, branch. */
export function yardFacts(firm: string, by: string, start: number = START): readonly AnyFact[] {
  let seq = 0;
  const head = (property: string | null, station: string | null): FactHead => {
    seq += 1;
    const ms = start + seq * 1000;
    return {
      id: newId(),
      firm,
      property,
      station,
      by,
      device: `office of ${firm}`,
      seq,
      at: new Date(ms).toISOString().replace('Z', '+00:00'),
      clock: `${String(ms).padStart(15, '0')}.00000`,
    };
  };
  const fact = (value: Fact): AnyFact => value;
  return [
    fact({ ...head(null, null), kind: 'profile set', body: DEMO_PROFILE }),
    fact({
      ...head(null, null),
      kind: 'branch added',
      body: { branch: 'north', name: 'Branch north', timeZone: 'America/New_York' },
    }),
    fact({ ...head(PROPERTY, null), kind: 'property added', body: PROPERTY_BODY }),
    fact({
      ...head(PROPERTY, null),
      kind: 'structure added',
      body: { structure: 'house', name: 'House', foundation: 'slab', outline: null },
    }),
    ...Array.from({ length: STATIONS }, (_, index) =>
      fact({
        ...head(PROPERTY, stationOf(index + 1)),
        kind: 'station installed',
        body: {
          structure: 'house',
          number: index + 1,
          tag: null,
          model: 'two-part',
          position: null,
          auxiliary: false,
          visit: null,
          inserts: [
            { slot: 'base', insert: 'monitor' },
            { slot: 'top', insert: 'monitor' },
          ],
          application: null,
        },
      }),
    ),
  ];
}

const PROPERTY_BODY: PropertyBody = {
  name: 'House of the faulty line (invented)',
  branch: 'north',
  address: { street: '12 Pretend Lane', town: 'Nowhere Falls', state: 'FL', postcode: '00000' },
  customer: { name: 'Nobody', email: null, phone: null },
  timeZone: 'America/New_York',
  profile: DEMO_PROFILE.id,
  agreement: null,
  accessNotes: '',
  hazards: '',
  position: null,
};

const NOTHING_FOUND: Finding = {
  reach: 'opened',
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'sound',
  housing: 'sound',
  occupants: 'none',
};

export function seenBody(visit: string, note = '', finding: Finding = NOTHING_FOUND): StationSeenBody {
  return {
    visit,
    task: 'check',
    finding,
    work: {
      yearlyServiceDone: false,
      baseMonitorLifted: false,
      cleanedOut: false,
      fitted: [],
      withdrawn: [],
      partsUsed: {},
      minutes: null,
    },
    application: null,
    note,
    photos: [],
  };
}
