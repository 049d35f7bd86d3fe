import { EMPTY_SITE, layOutSite } from '@sillwatch/ring';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { schematicRing } from '../src/desk/property/planLayout.ts';
import { metresToSheet, sheetToMetres, zoomOf } from '../src/shared/siteSheet.ts';

/** A row of stations south of a house of 14 m by 10 m. */
function drawn(apartMetres: number, turnDegrees = 0) {
  return layOutSite(
    {
      ...EMPTY_SITE,
      structures: [
        {
          id: 'house',
          name: 'House',
          foundation: 'slab',
          outline: [
            { x: 0, y: 0 },
            { x: 14, y: 0 },
            { x: 14, y: 10 },
            { x: 0, y: 10 },
          ],
          holes: [],
        },
      ],
      stations: [0, 1, 2, 3].map((index) => ({
        id: `s${index}`,
        number: index + 1,
        at: { x: index * apartMetres, y: -0.6 },
      })),
    },
    {
      medium: { kind: 'screen', width: 560, height: 520, isSnug: true },
      contrast: 'usual',
      units: 'ft',
      marks: new Map(),
      turnDegrees,
    },
  );
}

it('leaves a drawing alone while marks can be pressed apart, then makes it larger, up to three times', () => {
  expect(zoomOf(drawn(3))).toBe(1);
  expect(zoomOf(drawn(0.6))).toBeGreaterThan(1.15);
  expect(zoomOf(drawn(0.3))).toBe(3);
  // Measured at one place: nothing draws them apart.
  expect(zoomOf(drawn(0.001))).toBe(1);
});

it('takes a tap back to the metres that are drawn there, however the drawing is turned', () => {
  const metres = fc.double({ min: -40, max: 40, noNaN: true });
  fc.assert(
    fc.property(metres, metres, fc.integer({ min: 0, max: 359 }), (x, y, turnDegrees) => {
      const drawing = drawn(3, turnDegrees);
      const on = metresToSheet(drawing, { x, y });
      const back = sheetToMetres(drawing, on.x, on.y);
      expect(Math.hypot(back.x - x, back.y - y)).toBeLessThan(1e-6);
      const [first] = drawing.stations;
      const own = metresToSheet(drawing, { x: 0, y: -0.6 });
      expect(Math.hypot((first?.x ?? 0) - own.x, (first?.y ?? 0) - own.y)).toBeLessThan(1e-6);
    }),
  );
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
