import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  crowdingOf,
  LABEL_HALF,
  layOutPlan,
  MARK_HALF,
  schematicRing,
} from '../src/desk/property/planLayout.ts';

const house = [
  [0, 0],
  [14, 0],
  [14, 6],
  [9, 6],
  [9, 10],
  [0, 10],
] as const;

it('keeps numbers off each other and off the marks round an L-shaped house with stations 3 m apart', () => {
  const stations = walk(house, 3).map((position, index) => ({
    station: `s${index}`,
    number: index + 1,
    position,
    middle: [6, 4.5] as const,
  }));
  for (const width of [322, 560, 900]) {
    const plan = layOutPlan({ outlines: [house], stations, width, greatestHeight: 520 });
    for (const a of plan.stations) {
      for (const b of plan.stations) {
        if (a !== b) {
          const isClear =
            Math.abs(a.labelX - b.labelX) >= LABEL_HALF.x * 2 ||
            Math.abs(a.labelY - b.labelY) >= LABEL_HALF.y * 2;
          expect(isClear, `${width}: numbers ${a.number} and ${b.number}`).toBe(true);
        }
        const reach = { x: MARK_HALF + LABEL_HALF.x - 3, y: MARK_HALF + LABEL_HALF.y - 3 };
        const isOffMark = Math.abs(a.labelX - b.x) >= reach.x || Math.abs(a.labelY - b.y) >= reach.y;
        expect(isOffMark, `${width}: number ${a.number} on mark ${b.number}`).toBe(true);
      }
    }
  }
});

it('draws to one scale in both directions, north up, inside the sheet', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.integer({ min: -40, max: 40 }), fc.integer({ min: -40, max: 40 })), {
        minLength: 2,
        maxLength: 40,
      }),
      fc.integer({ min: 300, max: 1000 }),
      (positions, width) => {
        const stations = positions.map((position, index) => ({
          station: `s${index}`,
          number: index + 1,
          position,
          middle: [0, 0] as const,
        }));
        const plan = layOutPlan({ outlines: [], stations, width, greatestHeight: 520 });
        const [first, second] = plan.stations;
        const [a, b] = positions;
        if (first === undefined || second === undefined || a === undefined || b === undefined) return;
        expect(second.x - first.x).toBeCloseTo((b[0] - a[0]) * plan.pixelsPerMetre, 6);
        expect(second.y - first.y).toBeCloseTo(-(b[1] - a[1]) * plan.pixelsPerMetre, 6);
        for (const { x, y } of plan.stations) {
          expect(x).toBeGreaterThanOrEqual(MARK_HALF);
          expect(x).toBeLessThanOrEqual(width - MARK_HALF);
          expect(y).toBeGreaterThanOrEqual(MARK_HALF);
          expect(y).toBeLessThanOrEqual(plan.height - MARK_HALF);
        }
      },
    ),
  );
});

it('leaves a drawing alone while there is room, then makes marks smaller, then the drawing larger', () => {
  const at = (metres: number) =>
    crowdingOf({
      outlines: [house],
      stations: [0, 1, 2, 3].map((index) => ({
        station: `s${index}`,
        number: index + 1,
        position: [index * metres, -0.6] as const,
        middle: [6, 4.5] as const,
      })),
      width: 560,
      greatestHeight: 520,
    });
  expect(at(3)).toEqual({ shrink: 1, zoom: 1 });
  expect(at(0.6)).toMatchObject({ zoom: 1 });
  expect(at(0.6).shrink).toBeGreaterThan(1);
  expect(at(0.3).zoom).toBeGreaterThan(1.15);
  expect(at(0.05)).toEqual({ shrink: 1, zoom: 1 });
});

it('sets unmeasured stations at even steps round the plain house, clockwise', () => {
  const { positions, outline } = schematicRing(Array.from({ length: 18 }, (_, index) => index + 1));
  expect(new Set(positions.map(String)).size).toBe(18);
  const doubledArea = positions.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = positions[(index + 1) % positions.length] ?? [x, y];
    return sum + x * nextY - nextX * y;
  }, 0);
  expect(doubledArea, 'clockwise = negative area with y up').toBeLessThan(0);
  const xs = outline.map(([x]) => x);
  for (const [x, y] of positions) {
    const isInside =
      x > Math.min(...xs) && x < Math.max(...xs) && y > (outline[0]?.[1] ?? 0) && y < (outline[2]?.[1] ?? 0);
    expect(isInside).toBe(false);
  }
});

/** Points every `step` metres along a closed outline, pushed out a little from its middle. */
function walk(outline: readonly (readonly [number, number])[], step: number): readonly [number, number][] {
  const points: [number, number][] = [];
  let left = 0;
  outline.forEach(([x, y], index) => {
    const [toX, toY] = outline[(index + 1) % outline.length] ?? [x, y];
    const length = Math.hypot(toX - x, toY - y);
    for (let at = left; at < length; at += step) {
      const outX = (toY - y) / length;
      const outY = -(toX - x) / length;
      points.push([x + ((toX - x) * at) / length + outX * 0.6, y + ((toY - y) * at) / length + outY * 0.6]);
      left = at + step;
    }
    left -= length;
  });
  return points;
}
