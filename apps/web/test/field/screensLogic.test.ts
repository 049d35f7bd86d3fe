import { readFileSync } from 'node:fs';
import {
  assessClearance,
  DEMO_PROFILE,
  dueWork,
  foldProperty,
  getDay,
  type OpenedFinding,
  stepsFor,
  TWO_PART,
} from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tagOf } from '../../src/field/scan/tag.ts';
import { canBeLeft, stepsFollowed, workOf } from '../../src/field/serve/done.ts';
import { stateBefore, taskAt, taskOfVisit, viewVisit } from '../../src/field/serve/visit.ts';
import { nextOnWay, wayOf } from '../../src/field/serve/walk.ts';
import type { FieldProperty } from '../../src/field/store/port.ts';
import { sureNeeds } from '../../src/field/today/needs.ts';
import { geoLink, project } from '../../src/field/today/places.ts';
import { COUNT, FEEDING, servedStation, servedYard } from './support/servedYard.ts';

const NOW = Date.UTC(2026, 10, 25, 15);
const TODAY = getDay('2026-11-25');
const facts = servedYard('firm', 'office', NOW);
const folded = foldProperty(facts);
const property: FieldProperty = {
  state: folded,
  profile: DEMO_PROFILE,
  due: dueWork(folded.stations, DEMO_PROFILE, TODAY),
  today: TODAY,
  facts,
  unsent: new Set(),
  fetchedAt: null,
};

describe('a visit', () => {
  it('owes every station once, and is a yearly service as soon as one is open', () => {
    const view = viewVisit(property, 'today');
    expect(view.owed).toHaveLength(COUNT);
    expect(view.left).toEqual(view.owed);
    expect(taskOfVisit(property.due, TODAY)).toBe('yearly service');
    expect(taskAt(servedStation(FEEDING), property.due, TODAY, 'yearly service')).toBe('yearly service');
  });

  it('goes the shortest way and comes back to what was passed by', () => {
    const { order, lengthMetres } = wayOf(folded, viewVisit(property, 'today').owed);
    expect(order.toSorted()).toEqual(folded.stations.map(({ station }) => station).toSorted());
    // Two dozen stations round a house of 31.2 by 19.2 m: all but the last of 24 steps round it, corners cut at most.
    expect(lengthMetres).toBeLessThanOrEqual((2 * (31.2 + 19.2) * 23) / 24 + 1e-6);
    expect(nextOnWay(['a', 'b', 'c'], new Set(['a', 'c']), 'b')).toBe('c');
    expect(nextOnWay(['a', 'b', 'c'], new Set(['a']), 'b')).toBe('a');
    expect(nextOnWay(['a', 'b', 'c'], new Set(['b']), 'b')).toBeUndefined();
    expect(nextOnWay(['a', 'b'], new Set(['a', 'b']), undefined)).toBe('a');
  });

  it('sees a record as the station stood before it', () => {
    const look = facts.findLast(
      ({ kind, station }) => kind === 'station seen' && station === servedStation(FEEDING),
    );
    const before = stateBefore(facts, look?.id ?? '', DEMO_PROFILE);
    expect(before?.state.phase).toBe('baited');
    expect(folded.stations.find(({ station }) => station === servedStation(FEEDING))?.phase).toBe('feeding');
    expect(stateBefore(facts, 'no such fact', DEMO_PROFILE)).toBeUndefined();
  });

  it('surely needs two monitors for every station but the one that feeds', () => {
    expect(sureNeeds(property, { [TWO_PART.id]: TWO_PART })).toEqual({
      'base-monitor': COUNT - 1,
      'top-monitor': COUNT - 1,
    });
  });
});

describe('steps that were not done', () => {
  const findings = fc.record({
    reach: fc.constant('opened' as const),
    termites: fc.constantFrom('none', 'signs only', 'live on monitor', 'live on bait'),
    baitLeft: fc.constantFrom('no bait', 'full', 'half', 'gone'),
    monitor: fc.constantFrom('sound', 'eaten', 'swollen', 'missing'),
    housing: fc.constantFrom('sound', 'cap damaged', 'loose', 'flooded', 'broken'),
    occupants: fc.constantFrom('none', 'ants'),
  }) as fc.Arbitrary<OpenedFinding>;

  it('take their parts, bait and service with them, and add nothing', () => {
    fc.assert(
      fc.property(
        findings,
        fc.constantFrom('check', 'yearly service'),
        fc.nat(COUNT - 1),
        fc.array(fc.nat(12)),
        (finding, task, at, leave) => {
          const state = folded.stations[at];
          if (state === undefined) return;
          const steps = stepsFor({
            state: assessClearance(state, DEMO_PROFILE),
            model: TWO_PART,
            profile: DEMO_PROFILE,
            task: task as 'check' | 'yearly service',
            finding,
          });
          const optional = steps.steps.filter(canBeLeft).map(({ id }) => id);
          const left = new Set(leave.flatMap((index) => optional.slice(index, index + 1)));
          const followed = stepsFollowed(steps, left, DEMO_PROFILE);
          const work = workOf(followed, null, null);
          const all = workOf(steps, null, null);
          for (const [part, count] of Object.entries(work.partsUsed))
            expect(count).toBeLessThanOrEqual(all.partsUsed[part] ?? 0);
          if (left.size === 0) expect(followed).toBe(steps);
          if (work.yearlyServiceDone) {
            expect(all.yearlyServiceDone).toBe(true);
            for (const id of ['fit a new base monitor', 'clear debris from the housing'] as const)
              expect(left.has(id)).toBe(false);
          }
          expect(followed.baitGrams).toBe(
            followed.steps.filter(({ insert }) => insert === 'bait').length * 120,
          );
        },
      ),
    );
  });

  it('leave counts by hand as they were counted, zeros out', () => {
    const state = folded.stations[0];
    if (state === undefined) throw new Error('no station');
    const finding: OpenedFinding = {
      reach: 'opened',
      termites: 'none',
      baitLeft: 'no bait',
      monitor: 'sound',
      housing: 'sound',
      occupants: 'none',
    };
    const steps = stepsFor({
      state,
      model: TWO_PART,
      profile: DEMO_PROFILE,
      task: 'yearly service',
      finding,
    });
    expect(workOf(steps, { 'base-monitor': 2, 'top-monitor': 0 }, 3)).toMatchObject({
      partsUsed: { 'base-monitor': 2 },
      minutes: 3,
      yearlyServiceDone: true,
    });
  });
});

describe('places of the day', () => {
  it('lie north up and true to distance', () => {
    // 0.01 degree of latitude = 0.01 degree of longitude / cos(latitude): a square at 60 degrees north is twice as wide in degrees.
    const [a, b, c] = project(
      [
        { latitude: 60.005, longitude: 10 },
        { latitude: 59.995, longitude: 10 },
        { latitude: 59.995, longitude: 10.02 },
      ],
      400,
      400,
      20,
    );
    expect(a?.y).toBeLessThan(b?.y ?? 0);
    expect((c?.x ?? 0) - (b?.x ?? 0)).toBeCloseTo((b?.y ?? 0) - (a?.y ?? 0), 0);
  });

  it('are handed to the phone as RFC 5870 writes them', () => {
    expect(geoLink({ latitude: 28.5, longitude: -81.4 }, 'A & B')).toBe(
      'geo:28.500000,-81.400000?q=28.500000,-81.400000(A%20%26%20B)',
    );
  });
});

describe('the code of a tag', () => {
  it('is the tag, or the end of an address', () => {
    expect(tagOf(' T-007 ')).toBe('T-007');
    expect(tagOf('https://example.test/t/T-007?x=1')).toBe('T-007');
    expect(tagOf('https://example.test/t/T%2D7/')).toBe('T-7');
  });
});

it('the screens hold no words of their own: all stand in the words folder', () => {
  const page = readFileSync(new URL('../../src/field/serve/questions.tsx', import.meta.url), 'utf8');
  expect(page.match(/>[A-Z][a-z]+ [a-z]+/g)).toBeNull();
});
