import { metres } from '@sillwatch/trade/units';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Point, placeAuxiliaries, proposeStations, type Site } from '../../src/index.ts';
import { listRuns, planRun } from '../../src/placement/fewest.ts';
import { pullRun } from '../../src/placement/pull.ts';
import { houseOf, RULES, rectangle, SHAPES, seeded, withObstacles } from './support/sites.ts';

const house = houseOf(rectangle(0, 0, 12, 8));

function withConcerns(site: Site, places: readonly Point[]): Site {
  return { ...site, concerns: places.map((at, index) => ({ id: `c${index}`, kind: 'moisture', at })) };
}

function apart(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

describe('points of concern', () => {
  it('each have a station within the distance, or are named as out of reach', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...Object.values(SHAPES)),
        fc.integer({ min: 1, max: 100_000 }),
        fc.array(fc.tuple(fc.integer({ min: -6, max: 20 }), fc.integer({ min: -6, max: 20 })), {
          maxLength: 4,
        }),
        (shape, seed, places) => {
          const site = withConcerns(
            withObstacles(shape, seeded(seed), seed % 4),
            places.map(([x, y]) => ({ x, y })),
          );
          const proposal = proposeStations(site, RULES);
          for (const { id, at } of site.concerns) {
            const isServed = proposal.stations.some((station) => apart(station.at, at) <= 1.5 + 1e-5);
            const isNamed = proposal.concernsOutOfReach.some(({ concernId }) => concernId === id);
            expect(isServed).toBe(!isNamed);
          }
        },
      ),
      { numRuns: 100 },
    );
  });

  it('draw the ring to them: a station stands before a single point of concern, none is added', () => {
    const proposal = proposeStations(withConcerns(house, [{ x: 7.3, y: -0.1 }]), RULES);
    expect(Math.min(...proposal.stations.map(({ at }) => apart(at, { x: 7.3, y: -0.75 })))).toBeLessThan(
      0.01,
    );
    expect(proposal.stations.every(({ reason }) => reason.kind === 'ring')).toBe(true);
    expect(proposal.stations.length).toBe(proposeStations(house, RULES).stations.length);
  });

  it('get an extra station beside them far from any wall, named with the point', () => {
    const proposal = proposeStations(withConcerns(house, [{ x: 30, y: 4 }]), RULES);
    const extra = proposal.stations.filter(({ reason }) => reason.kind === 'concern');
    expect(extra.length).toBe(1);
    expect(apart(extra[0]?.at ?? { x: 0, y: 0 }, { x: 30, y: 4 })).toBeLessThanOrEqual(1.5);
  });

  it('are as near as can be at the count and gap found: no placement on a grid is nearer (all tried)', () => {
    const grid = fc.record({
      open: fc
        .array(fc.boolean(), { minLength: 8, maxLength: 14 })
        .filter((open) => open.some((isOpen) => !isOpen)),
      half: fc.integer({ min: 1, max: 4 }),
      pulls: fc.array(fc.nat(13), { minLength: 1, maxLength: 3 }),
    });
    fc.assert(
      fc.property(grid, ({ open, half, pulls }) => {
        const turn = open.length;
        const free = open.flatMap((isOpen, at) => (isOpen ? [{ from: at, to: at }] : []));
        const spacing = 2 * half;
        const runs = listRuns(free, turn, spacing);
        const [run] = runs;
        if (run === undefined) return;
        const isLoop = run.kind === 'loop';
        const places = run.arcs.map(({ from }) => from);
        const start = places[0] ?? 0;
        const end = places[places.length - 1] ?? 0;
        // On a chain only the pulls along it count; it may run past the turn.
        const on = pulls
          .map((pull) => pull % turn)
          .flatMap((pull) =>
            isLoop ? [pull] : [pull, pull + turn].filter((at) => at >= start && at <= end),
          );
        const plan = planRun(run, spacing);
        const cost = (at: readonly number[]) =>
          on.reduce((sum, pull) => {
            const near = at.map((place) => {
              const between = Math.abs(isLoop ? (place % turn) - pull : place - pull);
              return isLoop ? Math.min(between, turn - between) : between;
            });
            return sum + Math.min(...near);
          }, 0);
        const ours = cost(pullRun(run, plan, on));
        let least = Number.POSITIVE_INFINITY;
        const choose = (from: number, chosen: readonly number[]): void => {
          if (chosen.length === plan.at.length) {
            const isHeld = isLoop || (chosen[0] === start && chosen[chosen.length - 1] === end);
            const gaps = chosen.map((place, index) => {
              const next = chosen[index + 1] ?? (isLoop ? (chosen[0] ?? 0) + turn : place);
              return next - place;
            });
            if (isHeld && Math.max(...gaps) <= plan.greatestGapMetres + 1e-6)
              least = Math.min(least, cost(chosen));
            return;
          }
          for (let index = from; index < places.length; index++) {
            choose(index + 1, [...chosen, places[index] ?? 0]);
          }
        };
        choose(0, []);
        expect(ours).toBeLessThanOrEqual(least + 1e-4);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('auxiliary stations', () => {
  const ring = proposeStations(house, RULES).stations.map(({ at, number }) => ({
    id: `s${number}`,
    number,
    at,
  }));
  const site: Site = { ...house, stations: ring };

  it('stand on both sides of the hit at the wanted distance', () => {
    const result = placeAuxiliaries(site, RULES, { stationId: 's3', perSide: 1, apartMetres: 1 });
    if (!result.ok) throw new Error(result.fault);
    expect(result.missing).toBe(0);
    expect(result.places.length).toBe(2);
    for (const at of result.places) expect(apart(at, ring[2]?.at ?? at)).toBeLessThanOrEqual(1.001);
    for (const at of result.places) expect(apart(at, ring[2]?.at ?? at)).toBeGreaterThan(0.6);
  });

  it('keep off forbidden ground, and say how many found no place', () => {
    const hit = ring[2]?.at ?? { x: 0, y: 0 };
    const walled: Site = {
      ...site,
      keepOuts: [{ id: 'well', kind: 'well', at: hit, clearanceMetres: metres(2) }],
    };
    const result = placeAuxiliaries(walled, RULES, { stationId: 's3', perSide: 1, apartMetres: 1 });
    expect(result).toEqual({ ok: true, places: [], missing: 2 });
  });

  it('are refused for a station that is not there, or far from every line', () => {
    expect(placeAuxiliaries(site, RULES, { stationId: 'none', perSide: 1, apartMetres: 1 })).toEqual({
      ok: false,
      fault: 'no_such_station',
    });
    const far = { ...site, stations: [{ id: 'far', number: 1, at: { x: 40, y: 4 } }] };
    expect(placeAuxiliaries(far, RULES, { stationId: 'far', perSide: 1, apartMetres: 1 })).toEqual({
      ok: false,
      fault: 'far_from_every_line',
    });
    expect(() => placeAuxiliaries(site, RULES, { stationId: 's3', perSide: 1.5, apartMetres: 1 })).toThrow(
      RangeError,
    );
  });
});
