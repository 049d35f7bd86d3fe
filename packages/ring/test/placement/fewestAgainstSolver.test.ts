import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { listRuns, listUnguarded, planRun } from '../../src/placement/fewest.ts';
import type { Interval } from '../../src/placement/intervals.ts';
import { loadHighs } from '../support/highs.ts';

const highs = await loadHighs();

/** Where stations can stand on a closed line; an arc runs over the end where from > to. */
type Arc = Interval;
interface RingProblem {
  readonly length: number;
  readonly arcs: readonly Arc[];
  readonly spacing: number;
}

function coverRing({ length, arcs, spacing }: RingProblem) {
  const ground = arcs
    .flatMap(({ from, to }) =>
      to < from
        ? [
            { from: 0, to },
            { from, to: length },
          ]
        : [{ from, to }],
    )
    .toSorted((a, b) => a.from - b.from);
  const plans = listRuns(ground, length, spacing).map((run) => planRun(run, spacing));
  const stations = plans.flatMap(({ at }) => at.map((place) => place % length)).toSorted((a, b) => a - b);
  return {
    stations,
    unguarded: listUnguarded(
      stations.map((at) => ({ from: at, to: at })),
      length,
      spacing,
    ),
    greatestGap: Math.max(0, ...plans.map((plan) => plan.greatestGapMetres)),
  };
}

/** A ring on a whole-number grid: cells 0..length-1, places at whole numbers. All ends are whole, so an optimum stands on whole numbers. */
interface GridRing {
  readonly length: number;
  readonly open: readonly boolean[];
  readonly halfSpacing: number;
}

const gridRing: fc.Arbitrary<GridRing> = fc.integer({ min: 6, max: 60 }).chain((length) =>
  fc.record({
    length: fc.constant(length),
    open: fc
      .array(fc.tuple(fc.boolean(), fc.integer({ min: 1, max: 9 })), { minLength: 1, maxLength: 20 })
      .map((runs) => {
        const cells = runs.flatMap(([isOpen, count]) => Array.from({ length: count }, () => isOpen));
        return Array.from({ length }, (_, index) => cells[index % cells.length] ?? true);
      }),
    halfSpacing: fc.integer({ min: 1, max: 9 }),
  }),
);

/** Arcs between whole numbers where a station can stand: place n is open when the list says so; neighbouring open places join. */
function toProblem({ length, open, halfSpacing }: GridRing): RingProblem {
  if (open.every(Boolean)) return { length, arcs: [{ from: 0, to: length }], spacing: 2 * halfSpacing };
  const arcs: Arc[] = [];
  const start = open.findIndex((isOpen) => !isOpen);
  for (let step = 1; step <= length; step += 1) {
    const at = (start + step) % length;
    if (open[at] !== true) continue;
    if (open[(at - 1 + length) % length] === true) continue;
    let to = at;
    while (open[(to + 1) % length] === true) to = (to + 1) % length;
    arcs.push({ from: at, to });
  }
  return { length, arcs: arcs.sort((a, b) => a.from - b.from), spacing: 2 * halfSpacing };
}

/** Cells (unit stretches between whole numbers) that a station at place p guards. */
function guards(length: number, halfSpacing: number, place: number): Set<number> {
  const cells = new Set<number>();
  for (let step = -halfSpacing; step < halfSpacing; step += 1)
    cells.add((((place + step) % length) + length) % length);
  return cells;
}

/** The same question as a set cover, put to an exact solver of others (HiGHS). */
function solveByHighs({ length, open, halfSpacing }: GridRing): {
  readonly count: number;
  readonly unguarded: number;
} {
  const places = open.flatMap((isOpen, place) => (isOpen ? [place] : []));
  const guardedBy = new Map<number, number[]>();
  for (const place of places)
    for (const cell of guards(length, halfSpacing, place))
      guardedBy.set(cell, [...(guardedBy.get(cell) ?? []), place]);
  const unguarded = length - guardedBy.size;
  if (places.length === 0) return { count: 0, unguarded };
  const rows = [...guardedBy.values()].map(
    (list, index) => ` c${index}: ${list.map((place) => `x${place}`).join(' + ')} >= 1`,
  );
  const names = places.map((place) => `x${place}`).join(' ');
  const solved = highs.solve(
    `Minimize\n obj: ${places.map((place) => `x${place}`).join(' + ')}\nSubject To\n${rows.join('\n')}\nBinary\n ${names}\nEnd\n`,
  );
  return { count: Math.round(solved.ObjectiveValue), unguarded };
}

function measure(arcs: readonly Arc[], length: number): number {
  return arcs.reduce((sum, { from, to }) => sum + (to < from ? to + length - from : to - from), 0);
}

describe('stations on one line', () => {
  it('guard as much as can be guarded with as few as an exact solver of others finds (HiGHS, gap 0)', () => {
    fc.assert(
      fc.property(gridRing, (grid) => {
        const cover = coverRing(toProblem(grid));
        const exact = solveByHighs(grid);
        expect(cover.stations.length).toBe(exact.count);
        expect(measure(cover.unguarded, grid.length)).toBeCloseTo(exact.unguarded, 5);
      }),
      { numRuns: 600 },
    );
  });

  it('stand on ground that takes them, and leave unguarded only what they say (sampled, sharing no code)', () => {
    fc.assert(
      fc.property(gridRing, (grid) => {
        const problem = toProblem(grid);
        const { stations, unguarded } = coverRing(problem);
        const { length } = problem;
        const within = (at: number, { from, to }: Arc): boolean =>
          to < from ? at >= from - 1e-5 || at <= to + 1e-5 : at >= from - 1e-5 && at <= to + 1e-5;
        for (const at of stations)
          expect(
            problem.arcs.some(
              (arc) => within(at, arc) || within(at - length, arc) || within(at + length, arc),
            ),
          ).toBe(true);
        for (let at = 0; at < length; at += 0.05) {
          const nearest = Math.min(
            ...stations.map((one) => Math.min(Math.abs(one - at), length - Math.abs(one - at))),
            Number.POSITIVE_INFINITY,
          );
          if (nearest > grid.halfSpacing + 1e-5) expect(unguarded.some((arc) => within(at, arc))).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('are as even as can be: no smaller greatest gap with as many stations on the grid', () => {
    fc.assert(
      fc.property(
        gridRing.filter(
          ({ length, open, halfSpacing }) =>
            length <= 16 &&
            open.some(Boolean) &&
            coverRing(toProblem({ length, open, halfSpacing })).unguarded.length === 0,
        ),
        (grid) => {
          const { stations, greatestGap } = coverRing(toProblem(grid));
          const places = grid.open.flatMap((isOpen, place) => (isOpen ? [place] : []));
          let least = Number.POSITIVE_INFINITY;
          const choose = (from: number, chosen: readonly number[]): void => {
            if (chosen.length === stations.length) {
              const gaps = chosen.map((place, index) =>
                index + 1 < chosen.length
                  ? (chosen[index + 1] ?? 0) - place
                  : (chosen[0] ?? 0) + grid.length - place,
              );
              least = Math.min(least, Math.max(...gaps));
              return;
            }
            for (let index = from; index < places.length; index += 1)
              choose(index + 1, [...chosen, places[index] ?? 0]);
          };
          choose(0, []);
          expect(greatestGap).toBeLessThanOrEqual(least + 2e-4);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('double the spacing never asks for more of them; less ground never guards more', () => {
    fc.assert(
      fc.property(gridRing, fc.nat(59), (grid, closedAt) => {
        const cover = coverRing(toProblem(grid));
        expect(
          coverRing(toProblem({ ...grid, halfSpacing: grid.halfSpacing * 2 })).stations.length,
        ).toBeLessThanOrEqual(cover.stations.length);
        const less = {
          ...grid,
          open: grid.open.map((isOpen, index) => isOpen && index !== closedAt % grid.length),
        };
        expect(measure(coverRing(toProblem(less)).unguarded, grid.length)).toBeGreaterThanOrEqual(
          measure(cover.unguarded, grid.length) - 1e-5,
        );
      }),
      { numRuns: 300 },
    );
  });
});
