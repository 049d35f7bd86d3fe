import { describe, expect, it } from 'vitest';
import { credibility, flagOutliers, median } from '../src/index.ts';

/** Hachemeister (1975): mean claims of five states over twelve quarters, and their counts, as printed in textbooks of credibility (from memory). */
const MEANS = [
  [1738, 1642, 1794, 2051, 2079, 2234, 2032, 2035, 2115, 2262, 2267, 2517],
  [1364, 1408, 1597, 1444, 1342, 1675, 1470, 1448, 1464, 1831, 1612, 1471],
  [1759, 1685, 1479, 1763, 1674, 2103, 1502, 1622, 1828, 2155, 2233, 2059],
  [1223, 1146, 1010, 1257, 1426, 1532, 1953, 1123, 1343, 1243, 1762, 1306],
  [1456, 1499, 1609, 1741, 1482, 1572, 1606, 1735, 1607, 1573, 1613, 1690],
];
const COUNTS = [
  [7861, 9251, 8706, 8575, 7917, 8263, 9456, 8003, 7365, 7832, 7849, 9077],
  [1622, 1742, 1523, 1515, 1622, 1602, 1964, 1515, 1527, 1748, 1654, 1861],
  [1147, 1357, 1329, 1204, 998, 1077, 1277, 1218, 896, 1003, 1108, 1121],
  [407, 396, 348, 341, 315, 328, 352, 331, 287, 384, 321, 342],
  [2902, 3172, 3046, 3068, 2693, 2910, 3275, 2697, 2663, 3017, 3242, 3425],
];

describe('credibility', () => {
  it('of Hachemeister’s five states equals the printed estimates (Bühlmann and Straub; from memory)', () => {
    const found = credibility(
      MEANS.map((row, state) =>
        row.map((value, quarter) => ({ value, weight: COUNTS[state]?.[quarter] ?? 0 })),
      ),
    );
    expect(found?.common).toBeCloseTo(1683.713, 2);
    expect(found?.within).toBeCloseTo(139_120_026, -1);
    expect(found?.between).toBeCloseTo(89_639, -1);
    const estimates = [2055.165, 1523.706, 1793.444, 1442.967, 1603.285];
    estimates.forEach((estimate, state) => {
      expect(found?.groups[state]?.estimate).toBeCloseTo(estimate, 2);
    });
  });
  it('draws a group without data wholly to the common mean', () => {
    const one = (value: number) => ({ value, weight: 1 });
    const found = credibility([[one(1), one(1.2)], [one(9), one(9.1)], []]);
    expect(found?.groups[2]).toMatchObject({ credibility: 0, estimate: found?.common });
    expect(found?.groups[0]?.credibility).toBeGreaterThan(0.99);
  });
  it('says nothing where no group repeats, and sees no difference where there is none', () => {
    expect(credibility([[{ value: 1, weight: 1 }], [{ value: 2, weight: 1 }]])).toBeUndefined();
    const same = [
      { value: 1, weight: 1 },
      { value: 3, weight: 1 },
    ];
    const found = credibility([same, same]);
    expect(found).toMatchObject({ between: 0, common: 2 });
    expect(() => credibility([[{ value: 1, weight: 0 }]])).toThrow(/weight/);
  });
});

describe('outliers', () => {
  it('flags one value far off, and none of few or of equal ones', () => {
    expect(flagOutliers([2, 3, 2, 4, 3, 2, 90])).toEqual([false, false, false, false, false, false, true]);
    expect(flagOutliers([2, 2, 2, 2, 2, 2, 2, 2, 90]).indexOf(true)).toBe(8);
    expect(flagOutliers([2, 90, 400]).includes(true)).toBe(false);
    expect(flagOutliers([3, 3, 3, 3, 3]).includes(true)).toBe(false);
    expect(median([4, 1, 3, 2])).toBe(2.5);
  });
});
