import { type AnyFact, DEMO_PROFILE, type Fact, type FactHead, type Finding } from '@sillwatch/trade';
import { createIdMaker } from '../../src/index.ts';

const newId = createIdMaker(Date.now);
const START = Date.UTC(2025, 0, 10, 15);

/** Invented records of one firm, as one device would send them. */
export function createFacts(firm: string, by: string, device = `device-of-${by}`) {
  let seq = 0;
  const head = (property: string | null, station: string | null, day: number): FactHead => {
    seq += 1;
    const millis = START + day * 86_400_000 + seq * 1000;
    return {
      id: newId(),
      firm,
      property,
      station,
      by,
      device,
      seq,
      at: new Date(millis).toISOString().replace('Z', '+00:00'),
      clock: `${String(millis).padStart(15, '0')}.00000`,
    };
  };
  const fact = (value: Fact): AnyFact => value;
  return {
    profile: () => fact({ ...head(null, null, 0), kind: 'profile set', body: DEMO_PROFILE }),
    branch: (branch = 'north') =>
      fact({
        ...head(null, null, 0),
        kind: 'branch added',
        body: { branch, name: `Branch ${branch}`, timeZone: 'America/New_York' },
      }),
    property: (property: string, branch = 'north') =>
      fact({
        ...head(property, null, 0),
        kind: 'property added',
        body: {
          name: `House ${property}`,
          branch,
          address: { street: '12 Pretend Lane', town: 'Nowhere Falls', state: 'FL', postcode: '00000' },
          customer: { name: `Customer of ${property}`, email: null, phone: null },
          timeZone: 'America/New_York',
          profile: DEMO_PROFILE.id,
          agreement: { startsOn: '2025-01-01', renewsOn: '2026-01-01' },
          accessNotes: '',
          hazards: '',
          position: null,
        },
      }),
    structure: (property: string) =>
      fact({
        ...head(property, null, 0),
        kind: 'structure added',
        body: { structure: `${property}-house`, name: 'House', foundation: 'slab', outline: null },
      }),
    installed: (property: string, station: string, number = 1) =>
      fact({
        ...head(property, station, 0),
        kind: 'station installed',
        body: {
          structure: `${property}-house`,
          number,
          tag: `T-${station}`,
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
    seen: (property: string, station: string, day = 80, visit = `${property}-visit-${day}`) =>
      fact({
        ...head(property, station, day),
        kind: 'station seen',
        body: {
          visit,
          task: 'check',
          finding: NOTHING_FOUND,
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
          note: '',
          photos: [],
        },
      }),
    closed: (property: string, day = 80, visit = `${property}-visit-${day}`) =>
      fact({
        ...head(property, null, day),
        kind: 'visit closed',
        body: {
          visit,
          task: 'check',
          technician: by,
          licenceNumber: 'INV-1',
          startedAt: new Date(START + day * 86_400_000).toISOString().replace('Z', '+00:00'),
          note: '',
        },
      }),
    note: (property: string, text: string) =>
      fact({ ...head(property, null, 81), kind: 'note added', body: { text } }),
    correction: (corrected: AnyFact, body: unknown) =>
      fact({
        ...head(corrected.property, corrected.station, 82),
        kind: 'fact corrected',
        body: { corrects: corrected.id, why: 'mistyped', body, at: null },
      }),
    other: (property: string | null, kind: string): AnyFact => ({
      ...head(property, null, 83),
      kind,
      body: { anything: 1 },
    }),
  };
}

export const NOTHING_FOUND: Finding = {
  reach: 'opened',
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'sound',
  housing: 'sound',
  occupants: 'none',
};

/** A firm's first facts: label, branch, one property with two stations, one visit. */
export function firstFacts(firm: string, by: string, property: string, branch = 'north'): readonly AnyFact[] {
  const facts = createFacts(firm, by);
  return [
    facts.profile(),
    facts.branch(branch),
    facts.property(property, branch),
    facts.structure(property),
    facts.installed(property, `${property}-s1`, 1),
    facts.installed(property, `${property}-s2`, 2),
    facts.seen(property, `${property}-s1`),
    facts.seen(property, `${property}-s2`),
    facts.closed(property),
  ];
}
