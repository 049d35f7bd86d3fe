import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Barrier, planWalk, type WalkRequest } from '../../src/walk/index.ts';
import { distanceOf, type Point, segmentsMeet } from '../../src/walk/plane.ts';

const at = (x: number, y: number): Point => ({ x, y });
const box = (x: number, y: number, width: number, height: number): Barrier => ({
  kind: 'closed',
  outer: [at(x, y), at(x + width, y), at(x + width, y + height), at(x, y + height)],
  courtyards: [],
});
const walkTo = (goal: Point, barriers: readonly Barrier[], more: Partial<WalkRequest> = {}) =>
  planWalk({
    ground: { barriers, gates: [] },
    start: at(0, 0),
    end: 'anywhere',
    stops: [{ id: 'S1', at: goal }],
    seed: 1,
    ...more,
  });

describe('planWalk round walls', () => {
  it('goes straight where nothing stands', () => {
    expect(walkTo(at(3, 4), []).lengthMetres).toBe(5);
  });

  it('goes round the nearer corner of a house, not through it', () => {
    // By hand: from (0,0) past the corner (4,3) of a house 4..6 by -9..3 and the corner (6,3), to (10,0): 5 + 2 + 5.
    const walk = walkTo(at(10, 0), [box(4, -9, 2, 12)]);
    expect(walk.lengthMetres).toBeGreaterThan(12);
    expect(walk.lengthMetres).toBeLessThan(12 + 0.06);
    expect(walk.legs[0]?.points.length).toBe(4);
  });

  it('goes round the end of a fence, and through its gate when there is one', () => {
    const fence: Barrier = { kind: 'open', line: [at(5, -20), at(5, 12)] };
    expect(walkTo(at(10, 0), [fence]).lengthMetres).toBeCloseTo(26, 1);
    const gated = walkTo(at(10, 0), [fence], {
      ground: { barriers: [fence], gates: [{ at: at(5.2, 0), widthMetres: 1 }] },
    });
    expect(gated.lengthMetres).toBe(10);
  });

  it('does not slip between a house and a fence that is drawn almost up to it', () => {
    const house = box(0, 5, 10, 10);
    const fence: Barrier = { kind: 'open', line: [at(5, 4.8), at(5, -30)] };
    const walk = planWalk({
      ground: { barriers: [house, fence], gates: [] },
      start: at(2, 4),
      end: 'anywhere',
      stops: [{ id: 'S1', at: at(8, 4) }],
      seed: 1,
    });
    // Round the house (over its far side) is shorter than round the end of the fence.
    expect(walk.lengthMetres).toBeGreaterThan(30);
  });

  it('names what it cannot reach: inside a house, in a closed yard, in a courtyard', () => {
    const yard: Barrier = {
      kind: 'open',
      line: [at(20, 20), at(30, 20), at(30, 30), at(20, 30), at(20, 20)],
    };
    const block: Barrier = {
      kind: 'closed',
      outer: [at(40, 0), at(60, 0), at(60, 20), at(40, 20)],
      courtyards: [[at(45, 5), at(55, 5), at(55, 15), at(45, 15)]],
    };
    const walk = planWalk({
      ground: { barriers: [box(5, 5, 5, 5), yard, block], gates: [] },
      start: at(0, 0),
      end: 'start',
      stops: [
        { id: 'in-house', at: at(7, 7) },
        { id: 'in-yard', at: at(25, 25) },
        { id: 'in-courtyard', at: at(50, 10) },
        { id: 'outside', at: at(12, 12) },
      ],
      seed: 1,
    });
    expect(walk.unreachable).toEqual(['in-house', 'in-yard', 'in-courtyard']);
    expect(walk.order).toEqual(['outside']);
  });

  it('keeps to a row of houses with shared walls', () => {
    const walk = walkTo(at(7.5, 9), [box(2, 2, 5, 5), box(7, 2, 5, 5), box(12, 2, 5, 5)]);
    // Past the corners (2,2)?-(2,7): sqrt(8)... the way round the west end: (0,0) -> (2,7) -> (7.5,9).
    expect(walk.lengthMetres).toBeCloseTo(Math.hypot(2, 7) + Math.hypot(5.5, 2), 1);
  });

  it('walks a ring of 24 stations once round the house', () => {
    const stops = Array.from({ length: 24 }, (_, index) => {
      const along = index * 2.5;
      const side = Math.floor(along / 15);
      const rest = along - side * 15;
      const corner = [
        at(5 - 0.3 + rest, 4.7),
        at(20.3, 5 - 0.3 + rest),
        at(20.3 - rest, 20.3),
        at(4.7, 20.3 - rest),
      ];
      return { id: `S${index + 1}`, at: corner[side] ?? at(0, 0) };
    });
    const walk = planWalk({
      ground: { barriers: [box(5, 5, 15, 15)], gates: [] },
      start: at(4, 4),
      end: 'start',
      stops,
      seed: 1,
    });
    expect(walk.order.length).toBe(24);
    expect(walk.lengthMetres).toBeLessThan(4 * 15.6 + 2.2);
    const numbers = walk.order.map((id) => Number(id.slice(1)));
    const isForwards = (numbers[1] ?? 0) > (numbers[0] ?? 0);
    expect(numbers).toEqual([...numbers].sort((a, b) => (isForwards ? a - b : b - a)));
  });

  it('ends where it is told to', () => {
    const walk = walkTo(at(3, 0), [], { end: at(10, 0) });
    expect(walk.lengthMetres).toBe(10);
    expect(walk.legs.map((leg) => leg.to)).toEqual(['S1', null]);
    expect(walkTo(at(3, 0), [box(9, -1, 2, 2)], { end: at(10, 0) })).toMatchObject({
      endIsReachable: false,
      lengthMetres: 3,
    });
  });
});

const boxes = fc
  .array(
    fc.record({
      column: fc.nat(5),
      row: fc.nat(5),
      width: fc.integer({ min: 1, max: 6 }),
      height: fc.integer({ min: 1, max: 6 }),
    }),
    { maxLength: 12 },
  )
  .map((list) => list.map((b) => box(b.column * 8 + 1, b.row * 8 + 1, b.width, b.height)));

describe('any yard', () => {
  const spot = fc.tuple(fc.integer({ min: -2, max: 50 }), fc.integer({ min: -2, max: 50 }));

  it('never steps through a wall, is never shorter than the straight line, and is near a grid search', () => {
    fc.assert(
      fc.property(boxes, spot, spot, (barriers, [sx, sy], [gx, gy]) => {
        const start = at(sx + 0.25, sy + 0.35);
        const goal = at(gx + 0.25, gy + 0.35);
        const walk = planWalk({
          ground: { barriers, gates: [] },
          start,
          end: 'anywhere',
          stops: [{ id: 'goal', at: goal }],
          seed: 1,
        });
        const grid = gridLength(barriers, start, goal);
        expect(walk.unreachable.length === 1).toBe(grid === Number.POSITIVE_INFINITY);
        if (walk.unreachable.length === 1) return;
        expect(walk.lengthMetres).toBeGreaterThanOrEqual(distanceOf(start, goal) - 1e-9);
        // Eight directions make a straight way up to 8.24 % longer (1 / cos 22.5 degrees), never shorter than the true path.
        expect(walk.lengthMetres).toBeLessThanOrEqual(grid + 0.5);
        expect(walk.lengthMetres * 1.0824 + 4).toBeGreaterThanOrEqual(grid);
        for (const leg of walk.legs)
          for (const [index, a] of leg.points.entries()) {
            const b = leg.points[index + 1];
            if (b === undefined) continue;
            for (const barrier of barriers) {
              if (barrier.kind !== 'closed') continue;
              for (const [corner, c] of barrier.outer.entries()) {
                const d = barrier.outer[(corner + 1) % barrier.outer.length] ?? c;
                expect(segmentsMeet({ a, b }, { a: c, b: d })).toBe(false);
              }
            }
          }
      }),
      { numRuns: 40 },
    );
  });

  it('is the same length whichever way the site is turned, moved or mirrored', () => {
    fc.assert(
      fc.property(
        boxes,
        fc.array(spot, { minLength: 1, maxLength: 6 }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.boolean(),
        (barriers, spots, angle, isMirrored) => {
          const move = (p: Point): Point => {
            const x = isMirrored ? -p.x : p.x;
            return at(
              100 + x * Math.cos(angle) - p.y * Math.sin(angle),
              x * Math.sin(angle) + p.y * Math.cos(angle) - 40,
            );
          };
          const moved = barriers.map(
            (b): Barrier =>
              b.kind === 'closed' ? { ...b, outer: b.outer.map(move) } : { ...b, line: b.line.map(move) },
          );
          const stops = spots.map(([x, y], index) => ({ id: `S${index}`, at: at(x + 0.25, y + 0.35) }));
          const common = { end: 'start', seed: 1 } as const;
          const one = planWalk({ ...common, ground: { barriers, gates: [] }, start: at(-1, -1), stops });
          const two = planWalk({
            ...common,
            ground: { barriers: moved, gates: [] },
            start: move(at(-1, -1)),
            stops: stops.map((stop) => ({ ...stop, at: move(stop.at) })),
          });
          expect(two.lengthMetres).toBeCloseTo(one.lengthMetres, 5);
          expect(two.unreachable).toEqual(one.unreachable);
        },
      ),
      { numRuns: 30 },
    );
  });
});

/** An independent slow check: Dijkstra on a grid of half a metre, eight directions. */
function gridLength(barriers: readonly Barrier[], start: Point, goal: Point): number {
  const step = 0.5;
  const low = -4;
  const side = 120;
  const isFree = (x: number, y: number): boolean =>
    barriers.every((barrier) => {
      if (barrier.kind !== 'closed') return true;
      const xs = barrier.outer.map((p) => p.x);
      const ys = barrier.outer.map((p) => p.y);
      return !(x >= Math.min(...xs) && x <= Math.max(...xs) && y >= Math.min(...ys) && y <= Math.max(...ys));
    });
  // Cells stand a quarter and 0.35 off the half metres, as the start and the goal do: never on a wall.
  const cell = (p: Point): number =>
    Math.round((p.y - 0.35 - low) / step) * side + Math.round((p.x - 0.25 - low) / step);
  const free = Uint8Array.from({ length: side * side }, (_, index) =>
    isFree(low + 0.25 + (index % side) * step, low + 0.35 + Math.floor(index / side) * step) ? 1 : 0,
  );
  const distance = new Float64Array(side * side).fill(Number.POSITIVE_INFINITY);
  distance[cell(start)] = free[cell(start)] === 1 ? 0 : Number.POSITIVE_INFINITY;
  // Relax until nothing changes, sweeping both ways: slow and plain.
  for (let isChanged = true; isChanged; ) {
    isChanged = false;
    for (const isDown of [true, false]) {
      for (let n = 0; n < side * side; n += 1) {
        const index = isDown ? n : side * side - 1 - n;
        if (free[index] === 0) continue;
        const column = index % side;
        const row = Math.floor(index / side);
        let least = distance[index] ?? 0;
        for (let dr = -1; dr <= 1; dr += 1) {
          for (let dc = -1; dc <= 1; dc += 1) {
            if (
              (dr === 0 && dc === 0) ||
              row + dr < 0 ||
              row + dr >= side ||
              column + dc < 0 ||
              column + dc >= side
            )
              continue;
            // A diagonal step must not cut a corner.
            if (free[(row + dr) * side + column] === 0 || free[row * side + column + dc] === 0) continue;
            least = Math.min(
              least,
              (distance[(row + dr) * side + column + dc] ?? 0) + step * Math.hypot(dr, dc),
            );
          }
        }
        if (least < (distance[index] ?? 0)) {
          distance[index] = least;
          isChanged = true;
        }
      }
    }
  }
  return distance[cell(goal)] ?? Number.POSITIVE_INFINITY;
}
