import type { AnyFact, Fact, FactHead, PropertyBody } from '@sillwatch/trade';
import { createRandom } from './random.ts';

/** Invented records, valid in every field, for filling a ledger. */
export interface FactMaker {
  readonly property: (property: string, changes?: Partial<PropertyBody>) => AnyFact;
  readonly structure: (property: string) => AnyFact;
  readonly installed: (property: string, station: string, number: number) => AnyFact;
  readonly seen: (property: string, station: string) => AnyFact;
  readonly noted: (property: string, text: string) => AnyFact;
  readonly corrected: (fact: AnyFact, body: unknown) => AnyFact;
  readonly branch: (branch: string) => AnyFact;
  readonly unknown: (property: string) => AnyFact;
}

export const RECEIVED = '2026-03-02T15:00:00.000Z';
const START = Date.UTC(2026, 2, 2, 14);

/** @param device also keeps the ids of several makers apart */
export function createFactMaker(firm: string, seed = 1, device = `device-${seed}`): FactMaker {
  const random = createRandom(seed);
  let count = 0;

  function head(property: string | null, station: string | null): FactHead {
    count += 1;
    const millis = START + count * 7_000;
    return {
      id: makeUuid(millis, random.below),
      firm,
      property,
      station,
      by: 'person-1',
      device,
      seq: count,
      at: new Date(millis).toISOString().replace('.000Z', '+00:00'),
      clock: `${String(millis).padStart(15, '0')}.00000`,
    };
  }

  const fact = (value: Fact): AnyFact => value;

  return {
    property: (property, changes = {}) =>
      fact({
        ...head(property, null),
        kind: 'property added',
        body: {
          name: `Invented house ${property}`,
          branch: 'north',
          address: { street: '12 Pretend Lane', town: 'Nowhere Falls', state: 'FL', postcode: '00000' },
          customer: { name: 'A. Sample', email: null, phone: null },
          timeZone: 'America/New_York',
          profile: 'invented',
          agreement: null,
          accessNotes: '',
          hazards: '',
          position: null,
          ...changes,
        },
      }),
    structure: (property) =>
      fact({
        ...head(property, null),
        kind: 'structure added',
        body: { structure: `${property}-house`, name: 'House', foundation: 'slab', outline: null },
      }),
    installed: (property, station, number) =>
      fact({
        ...head(property, station),
        kind: 'station installed',
        body: {
          structure: `${property}-house`,
          number,
          tag: `T-${station}`,
          model: 'two-part-monitor',
          position: [number * 3, 0.6],
          auxiliary: false,
          visit: null,
          inserts: [
            { slot: 'base', insert: 'monitor' },
            { slot: 'top', insert: 'monitor' },
          ],
          application: null,
        },
      }),
    seen: (property, station) =>
      fact({
        ...head(property, station),
        kind: 'station seen',
        body: {
          visit: `visit-${count}`,
          task: 'check',
          finding: {
            reach: 'opened',
            termites: random.pick(['none', 'none', 'none', 'signs only']),
            baitLeft: 'no bait',
            monitor: random.pick(['sound', 'rotten']),
            housing: random.pick(['sound', 'loose']),
            occupants: 'none',
          },
          work: {
            yearlyServiceDone: false,
            baseMonitorLifted: false,
            cleanedOut: false,
            fitted: [],
            withdrawn: [],
            partsUsed: {},
            minutes: 3,
          },
          application: null,
          note: random.pick(['', '', 'soil wet', 'mulch over the cap – raked', 'äöü 🐜 \u2028 "quoted"']),
          photos: [],
        },
      }),
    noted: (property, text) => fact({ ...head(property, null), kind: 'note added', body: { text } }),
    corrected: (corrects, body) =>
      fact({
        ...head(corrects.property, corrects.station),
        kind: 'fact corrected',
        body: { corrects: corrects.id, why: 'wrong station', body, at: null },
      }),
    branch: (branch) =>
      fact({
        ...head(null, null),
        kind: 'branch added',
        body: { branch, name: `Branch ${branch}`, timeZone: 'America/New_York' },
      }),
    unknown: (property) => ({ ...head(property, null), kind: 'drone flown', body: { metres: 12.5 } }),
  };
}

/** UUIDv7 of a moment (RFC 9562, 5.7) with seeded random bits. */
function makeUuid(millis: number, below: (limit: number) => number): string {
  const hex = (digits: number) => Array.from({ length: digits }, () => below(16).toString(16)).join('');
  const time = millis.toString(16).padStart(12, '0');
  return `${time.slice(0, 8)}-${time.slice(8)}-7${hex(3)}-${'89ab'[below(4)]}${hex(3)}-${hex(12)}`;
}

/** A property with a house, its stations, and `looks` looks at each: 2 + stations x (1 + looks) facts. */
export function makeProperty(maker: FactMaker, property: string, stations: number, looks: number): AnyFact[] {
  const ids = Array.from({ length: stations }, (_, index) => `${property}-s${index + 1}`);
  return [
    maker.property(property),
    maker.structure(property),
    ...ids.map((station, index) => maker.installed(property, station, index + 1)),
    ...Array.from({ length: looks }, () => ids.map((station) => maker.seen(property, station))).flat(),
  ];
}
