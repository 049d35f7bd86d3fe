import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustTraverse, outlineFromRuns, parseRuns } from '../../src/traverse/index.ts';

const FOOT = 0.3048;

function runsOf(text: string, unit?: 'ft' | 'm') {
  const result = parseRuns(text, unit);
  if (!result.ok) throw new Error(result.refusal.message);
  return result.runs;
}

describe('the compass rule against worked examples', () => {
  /**
   * Open Access Surveying Library (J. Mahun), Traverse Computations, chapter E, example "Traverse with Bearings" (figure E-6):
   * raw and adjusted latitudes and departures, adjusted lengths and bearings, as printed, in feet.
   */
  it('gives the adjusted latitudes, departures, lengths and bearings of the handbook', () => {
    const traverse = adjustTraverse(
      runsOf(
        `S 68°05'35"W 472.68 ft, N 19°46'00"W 216.13 ft, N 45°55'20"E 276.52 ft, S 54°59'15"E 382.24 ft`,
      ),
    );
    expect(traverse.closure.perimeterMetres / FOOT).toBeCloseTo(1347.57, 6);
    // Both papers add up rounded latitudes and departures: four times half of the last decimal.
    expect(Math.abs(traverse.closure.northMetres / FOOT - 0.083)).toBeLessThan(0.002);
    expect(Math.abs(traverse.closure.eastMetres / FOOT - 0.075)).toBeLessThan(0.002);
    const raw = [
      [-176.357, -438.548],
      [203.395, -73.093],
      [192.357, 198.651],
      [-219.312, 313.065],
    ] as const;
    const adjusted = [
      [-176.386, -438.574, 472.715, 180 + 68 + 5 / 60 + 27.4 / 3600],
      [203.382, -73.105, 216.122, 360 - (19 + 46 / 60 + 14.9 / 3600)],
      // Printed as 276.479, which its own latitude and departure contradict: two digits were exchanged.
      [192.34, 198.635, 276.497, 45 + 55 / 60 + 20.7 / 3600],
      [-219.336, 313.044, 382.237, 180 - (54 + 58 / 60 + 58 / 3600)],
    ] as const;
    for (const [index, run] of traverse.runs.entries()) {
      const [latitude, departure] = raw[index] ?? [Number.NaN, Number.NaN];
      expect(run.northMetres / FOOT).toBeCloseTo(latitude, 2.9);
      expect(run.eastMetres / FOOT).toBeCloseTo(departure, 2.9);
      const [north, east, length, azimuth] = adjusted[index] ?? [];
      // The handbook carries three decimals, so its last one may be off by one.
      expect(Math.abs((run.northMetres + run.northCorrectionMetres) / FOOT - (north ?? 0))).toBeLessThan(
        0.0011,
      );
      expect(Math.abs((run.eastMetres + run.eastCorrectionMetres) / FOOT - (east ?? 0))).toBeLessThan(0.0011);
      expect(Math.abs(run.lengthMetres / FOOT - (length ?? 0))).toBeLessThan(0.0011);
      expect(Math.abs(run.azimuthDegrees - (azimuth ?? 0)) * 3600).toBeLessThan(0.8);
    }
  });

  /** "Compass Rule: adjustment of bearing and distance of a closed traverse" (teaching paper, sides of 80.40, 46.30, 72.80 and 68.00 m). */
  it('gives the corrections of the teaching paper', () => {
    const traverse = adjustTraverse(runsOf('80.40 m N 76 E, 46.30 m S 36 E, 72.80 m S 61 W, 68.00 m N 38 W'));
    expect(Math.abs(traverse.closure.northMetres - 0.285)).toBeLessThan(0.002);
    expect(Math.abs(traverse.closure.eastMetres + 0.311)).toBeLessThan(0.002);
    const corrections = [
      [-0.0857, 0.0935],
      [-0.0493, 0.0538],
      [-0.0776, 0.0846],
      [-0.0724, 0.0791],
    ] as const;
    for (const [index, run] of traverse.runs.entries()) {
      const [north, east] = corrections[index] ?? [Number.NaN, Number.NaN];
      expect(Math.abs(run.northCorrectionMetres - north)).toBeLessThan(0.0006);
      expect(Math.abs(run.eastCorrectionMetres - east)).toBeLessThan(0.0006);
    }
  });
});

describe('parseRuns', () => {
  it('reads compass points, bearings, azimuths and turns, before or after the length', () => {
    const azimuths = (text: string) => runsOf(text, 'm').map((run) => run.azimuthDegrees);
    expect(azimuths('12.4 m east, 6 m south; west 3 m then 1 n')).toEqual([90, 180, 270, 0]);
    expect(azimuths('1 m NE, 1 m north-west, south east 1 m')).toEqual([45, 315, 135]);
    expect(azimuths(`N 45 E 20 ft\nS 30° 30' W 10 ft, azimuth 200 5 m, 5 m az 10°`)).toEqual([
      45, 210.5, 200, 10,
    ]);
    expect(
      azimuths('10 m north, right 5 m, 5 m right, left 2 m, turn left 45° 3 m, straight on 1 m'),
    ).toEqual([0, 90, 180, 90, 45, 45]);
  });

  /** Words and letters of the compass rose in Spanish (Real Academia Española: norte N, este E, sur S, oeste O). */
  it('reads the same walls in Spanish', () => {
    const same = [
      ['12.4 m este, 6 m sur; oeste 3 m luego 1 n', '12.4 m east, 6 m south; west 3 m then 1 n'],
      ['1 m NO, 1 m noreste, 2 m nordeste, suroeste 1 m, 4 m SO', '1 m NW, 1 m NE, 2 m NE, SW 1 m, 4 m SW'],
      [`12 pies 6 pulgadas al norte, 3 metros hacia el oeste, 4 m O`, `12' 6" north, 3 m west, 4 m W`],
      [
        `10 m norte, derecha 5 m, 5 m a la izquierda, gire a la derecha 45 grados 3 m, recto 1 m`,
        `10 m north, right 5 m, 5 m left, turn right 45° 3 m, straight on 1 m`,
      ],
      [
        `N 45° 30' O 20 pies, S 10 grados E 1 m, azimut 200 5 m`,
        `N 45° 30' W 20 ft, S 10° E 1 m, az 200 5 m`,
      ],
    ] as const;
    for (const [spanish, english] of same) {
      const plain = ({ lengthMetres, azimuthDegrees }: { lengthMetres: number; azimuthDegrees: number }) => ({
        lengthMetres,
        azimuthDegrees,
      });
      expect(runsOf(spanish, 'm').map(plain), spanish).toEqual(runsOf(english, 'm').map(plain));
    }
  });

  it('takes a comma between two digits for decimals, and any other for the end of a run', () => {
    const plain = (text: string) =>
      runsOf(text, 'm').map(({ lengthMetres, azimuthDegrees }) => [lengthMetres, azimuthDegrees]);
    expect(plain('12,4 m este, 6,25 m sur,oeste 12,4 m,norte 6,25')).toEqual([
      [12.4, 90],
      [6.25, 180],
      [12.4, 270],
      [6.25, 0],
    ]);
    expect(plain(`N 45,5° E 3,81 m, azimut 200,25 5 m, 5 m az 10,5°, derecha 22,5 grados 3 m`)).toEqual(
      plain(`N 45.5° E 3.81 m, azimuth 200.25 5 m, 5 m az 10.5°, right 22.5° 3 m`),
    );
    expect(plain(`12' north,6' east,left 10',3 ft right`)).toHaveLength(4);
  });

  it('keeps feet and inches apart from minutes and seconds', () => {
    expect(runsOf(`12' 6" east, N 45° 30' E 12' 6"`).map((run) => run.lengthMetres)).toEqual([3.81, 3.81]);
  });

  it.each([
    ['', 'no runs', null],
    ['12 m', 'no direction', 1],
    ['5 m east, 4 m sideways', 'no direction', 2],
    ['5 m east, around south', 'length', 2],
    ['5 m east, 0 m south', 'zero length', 2],
    ['1,250 m east', 'length', 1],
    ['east 12,6 m south', 'length', 1],
    ['5 m east, 3000 m south', 'too long', 2],
    ['left 5 m, 3 m east', 'turn before any run', 1],
    ['5 m east, N 95 E 4 m', 'length', 2],
    ['5 m east, right 200° 4 m', 'no direction', 2],
  ])('refuses %j as "%s" at run %s', (text, fault, run) => {
    expect(parseRuns(text)).toMatchObject({ ok: false, refusal: { fault, run } });
  });
});

describe('outlineFromRuns', () => {
  it('keeps a square house square', () => {
    const result = outlineFromRuns('12.4 m east, 6 m south, 12.4 m west, 6 m north');
    expect(result.ok && result.traverse.adjusted).toEqual([
      { x: 0, y: 0 },
      { x: 12.4, y: 0 },
      { x: 12.4, y: -6 },
      { x: 0, y: -6 },
    ]);
    expect(result.ok && result.traverse.closure.oneIn).toBe(null);
  });

  it('names the wall that goes the wrong way, the wall that is missing, the walls that cross', () => {
    const wrongWay = outlineFromRuns('12 m east, 6 m south, 12 m east, 6 m north');
    expect(!wrongWay.ok && wrongWay.refusal.fault).toBe('does not close');
    expect(!wrongWay.ok && wrongWay.refusal.message).toMatch(/run 1, "12 m east", go the other way/);
    const missing = outlineFromRuns('12 m east, 6 m south, 12 m west');
    expect(!missing.ok && missing.refusal.message).toMatch(/about 6 m to the north missing/);
    const crossed = outlineFromRuns(
      '10 m east, 5 m south, 4 m west, 9 m north, 2 m west, 9 m south, 4 m west, 5 m north',
    );
    expect(!crossed.ok && crossed.refusal).toMatchObject({ fault: 'crosses itself', at: { x: 6, y: 0 } });
    expect(outlineFromRuns('5 m east, 5 m west')).toMatchObject({
      ok: false,
      refusal: { fault: 'too few runs' },
    });
  });

  it('always closes, and spreads each correction in proportion to the length', () => {
    const run = fc.record({
      text: fc.constant('a wall'),
      lengthMetres: fc.double({ min: 0.1, max: 60, noNaN: true }),
      azimuthDegrees: fc.double({ min: 0, max: 359.9, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(run, { minLength: 3, maxLength: 30 }), (runs) => {
        const traverse = adjustTraverse(runs);
        const last = traverse.runs.at(-1);
        const corner = traverse.adjusted.at(-1);
        if (last === undefined || corner === undefined) throw new Error('runs were given');
        expect(corner.x + last.eastMetres + last.eastCorrectionMetres).toBeCloseTo(0, 8);
        expect(corner.y + last.northMetres + last.northCorrectionMetres).toBeCloseTo(0, 8);
        for (const [index, adjusted] of traverse.runs.entries()) {
          const share = (runs[index]?.lengthMetres ?? 0) / traverse.closure.perimeterMetres;
          expect(adjusted.eastCorrectionMetres).toBeCloseTo(-traverse.closure.eastMetres * share, 9);
        }
      }),
    );
  });
});
