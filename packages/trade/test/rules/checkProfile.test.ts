import { expect, test } from 'vitest';
import { checkProfile, DEMO_PROFILE, isEpaRegistrationNumber, isLabelProfile } from '../../src/index.ts';

const paths = (value: unknown): readonly string[] => checkProfile(value).map((problem) => problem.path);

test('the demo profile is sound, and every number in it is marked as invented', () => {
  expect(checkProfile(DEMO_PROFILE)).toEqual([]);
  expect(isLabelProfile(DEMO_PROFILE)).toBe(true);
  expect(DEMO_PROFILE.invented).toBe(true);
  expect(DEMO_PROFILE.product.name).toContain('invented');
  const { id: _id, name: _name, invented: _invented, product: _product, ...sourced } = DEMO_PROFILE;
  for (const [name, field] of Object.entries(sourced)) {
    expect(field.invented, name).toBe(true);
    expect(field.source, name).toContain('invented');
  }
});

// common practice, no source: renewed and cleaned out between the 12th and the 15th month
test('the demo yearly window runs from the 12th to the 15th month', () => {
  const { earliest, latest } = DEMO_PROFILE.yearlyService.value;
  expect([earliest, latest]).toEqual([
    { months: 12, days: 0 },
    { months: 15, days: 0 },
  ]);
});

// 40 CFR 152.132 for the distributor's third group; digit counts from memory
test.each([
  ['99999-999', true],
  ['1-1', true],
  ['123456-12345', true],
  ['123456-12345-123456', true],
  ['1234567-1', false],
  ['1-123456', false],
  ['1-1-1234567', false],
  ['1-1-1-1', false],
  ['01-1', false],
  ['1-', false],
  ['-1', false],
  ['1', false],
  ['', false],
  ['EPA 1-1', false],
  ['1-1 ', false],
  ['1-1\n', false],
  ['١-١', false],
])('EPA registration number %j: %s', (text, expected) => {
  expect(isEpaRegistrationNumber(text)).toBe(expected);
});

test('what is no object, or empty, is named', () => {
  for (const value of [null, undefined, 7, 'x', []]) expect(paths(value)).toEqual(['']);
  expect(paths({})).toContain('yearlyService');
  expect(paths({})).toContain('product');
  expect(paths({})).toHaveLength(3 + 1 + 18);
});

test.each<[string, object, string]>([
  ['misses below one', { missesBeforeReplacement: sourced(0) }, 'missesBeforeReplacement.value'],
  ['half a check', { clearAfterChecks: sourced(2.5) }, 'clearAfterChecks.value'],
  ['a fraction over one', { addBaitAtOrUnder: sourced(1.01) }, 'addBaitAtOrUnder.value'],
  ['no number', { addBaitAtOrUnder: sourced(Number.NaN) }, 'addBaitAtOrUnder.value'],
  ['no bait', { baitGramsPerInsert: sourced(0) }, 'baitGramsPerInsert.value'],
  [
    'endless spacing',
    { greatestSpacingMetres: sourced(Number.POSITIVE_INFINITY) },
    'greatestSpacingMetres.value',
  ],
  ['an unknown choice', { idleBait: sourced('eaten') }, 'idleBait.value'],
  ['setback turned round', { setbackMetres: sourced({ nearest: 2, farthest: 1 }) }, 'setbackMetres.value'],
  ['no source', { idleBait: { ...DEMO_PROFILE.idleBait, source: ' ' } }, 'idleBait.source'],
  ['invented, yet not said', { invented: false }, 'invented'],
  [
    'an EPA number with words',
    { product: { ...DEMO_PROFILE.product, epaRegistrationNumber: 'none' } },
    'product.epaRegistrationNumber',
  ],
  ['target before earliest', { check: sourced(windowOf([3, 0], [2, 0], [4, 0])) }, 'check.value.target'],
  ['latest before target', { check: sourced(windowOf([2, 0], [3, 0], [2, 15])) }, 'check.value.latest'],
  // February to May: 3 months can be 89 days
  [
    '90 days can outlast 3 months',
    { check: sourced(windowOf([0, 0], [0, 90], [3, 0])) },
    'check.value.latest',
  ],
  ['a window of nothing', { check: sourced(windowOf([0, 0], [0, 0], [0, 0])) }, 'check.value.latest'],
  ['negative days', { check: sourced(windowOf([0, -1], [0, 1], [0, 2])) }, 'check.value.earliest'],
  [
    'yearly from day 0',
    { yearlyService: sourced(windowOf([0, 0], [12, 0], [15, 0])) },
    'yearlyService.value.earliest',
  ],
])('%s', (_what, change, path) => {
  expect(paths({ ...DEMO_PROFILE, ...change })).toEqual([path]);
});

test('89 days never outlast 3 months', () => {
  expect(paths({ ...DEMO_PROFILE, check: sourced(windowOf([0, 0], [0, 89], [3, 0])) })).toEqual([]);
});

function sourced(value: unknown): object {
  return { value, source: 'a test', invented: true };
}

function windowOf(...ends: readonly [number, number][]): object {
  const [earliest, target, latest] = ends.map(([months, days]) => ({ months, days }));
  return { earliest, target, latest };
}
