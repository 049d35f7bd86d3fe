import { describe, expect, it } from 'vitest';
import { linesRound, wallsOf } from '../../src/placement/stationLine.ts';
import { signedArea } from '../../src/site/plane.ts';
import { houseOf, points, rectangle } from './support/sites.ts';

/**
 * Steiner's formula for the parallel body of a convex body in the plane: area A + P r + pi r^2, perimeter P + 2 pi r
 * (J. Steiner, "Über parallele Flächen", 1840; Schneider, Convex Bodies: The Brunn-Minkowski Theory, section 4.2).
 */
describe('the station line round a convex outline', () => {
  const convex = {
    rectangle: rectangle(0, 0, 12, 8),
    triangle: points('0,0 14,0 1,6'),
    hexagon: points('0,0 5,-2 9,0 10,6 4,9 -1,5'),
    regular: Array.from({ length: 40 }, (_, side) => ({
      x: 5 * Math.cos((side * Math.PI) / 20),
      y: 5 * Math.sin((side * Math.PI) / 20),
    })),
  };
  for (const [name, outline] of Object.entries(convex)) {
    for (const setback of [0.3, 0.75, 1.2, 3]) {
      it(`has the length and area of Steiner's formula: ${name} at ${setback} m`, () => {
        const [wall] = wallsOf(houseOf(outline).structures);
        const lines = linesRound(wall === undefined ? [] : [wall], setback);
        const perimeter = wall?.lengthMetres ?? 0;
        const area = Math.abs(signedArea(outline));
        expect(lines.length).toBe(1);
        // Chords stray 2 mm at most from the arc: area less by under 2 mm times the arc, length by under 1 % of the arc.
        const arc = 2 * Math.PI * setback;
        const length = lines[0]?.lengthMetres ?? 0;
        expect(length).toBeLessThanOrEqual(perimeter + arc + 0.002);
        expect(length).toBeGreaterThan(perimeter + arc * 0.995 - 0.002);
        const enclosed = signedArea(lines[0]?.points ?? []);
        const exact = area + perimeter * setback + Math.PI * setback * setback;
        expect(Math.abs(enclosed - exact)).toBeLessThan(0.003 * arc + 0.0002 * perimeter);
      });
    }
  }
});
