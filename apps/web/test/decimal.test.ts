import { DEMO_PROFILE } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftOf, profileOfDraft } from '../src/desk/office/profileFields.ts';
import { decimalFault, readCount, readDecimal } from '../src/shared/decimal.ts';
import { firstLegal, isComplete, type Legal, toApplication, wrongWith } from '../src/shared/legal.ts';
import { en } from '../src/words/en.ts';
import { words as es } from '../src/words/es.ts';

/** Phones and desks write decimals with a point or a comma; between thousands some people put the other one. */
describe('a number with decimals', () => {
  it.each([
    ['0.5', 0.5],
    ['0,5', 0.5],
    [' 12,25 ', 12.25],
    [',5', 0.5],
    ['.5', 0.5],
    ['120', 120],
    ['1.250', 1.25],
    ['0,250', 0.25],
    ['1234,567', 1234.567],
    ['1,2500', 1.25],
    ['-40,1', -40.1],
    ['−40.1', -40.1],
    ['+3', 3],
  ])('%s is read', (text, value) => {
    expect(readDecimal(text)).toEqual({ ok: true, value });
  });

  it.each([
    ['1,250', '1.25', '1250'],
    ['12,000', '12', '12000'],
    ['120,125', '120.125', '120125'],
    ['-1,250', '-1.25', '-1250'],
  ])('%s has two readings and is refused', (text, decimal, whole) => {
    expect(readDecimal(text)).toEqual({ ok: false, fault: 'two readings', decimal, whole });
  });

  it.each([
    '1,250.5',
    '1.250,5',
    '1,250,000',
    '1.250.000',
    '1 250',
    '1e3',
    '0x10',
    'Infinity',
    '12 g',
    ',',
    '.',
    '-',
    '5,',
    '5.',
  ])('%s is refused', (text) => {
    expect(readDecimal(text)).toEqual({ ok: false, fault: 'not a number' });
  });

  it('has one reading where the other would go past the most there can be', () => {
    expect(readDecimal('28,538', { most: 90 })).toEqual({ ok: true, value: 28.538 });
    expect(readDecimal('-81,379', { most: 180 })).toEqual({ ok: true, value: -81.379 });
  });

  it('is read back as it was written, for every number a form fills in', () => {
    fc.assert(
      fc.property(fc.integer({ min: -10_000_000, max: 10_000_000 }), (thousandths) => {
        const value = thousandths / 1000 + 0;
        expect(readDecimal(String(value))).toEqual({ ok: true, value });
      }),
    );
  });

  it('is a count where it is whole and not under none', () => {
    expect(['0', '12', ' 7 ', '3,0'].map(readCount)).toEqual([0, 12, 7, 3]);
    expect(['7,5', '-1', '1,500', '', 'ten'].map(readCount)).toEqual(Array(5).fill(undefined));
  });

  it('that has two readings is told both, in both languages', () => {
    for (const w of [en, es]) {
      const told = decimalFault('1,250', w) ?? '';
      expect(told).toContain('1,250');
      expect(told).toMatch(/\b1\.25\b/);
      expect(told).toMatch(/\b1250\b/);
      expect(decimalFault('0,5', w)).toBeUndefined();
      expect(decimalFault('abc', w)).toBeTruthy();
    }
  });
});

describe('the grams of a use record', () => {
  const legal = (grams: string): Legal => ({
    ...firstLegal(
      {
        profile: DEMO_PROFILE,
        grams: 120,
        station: 4,
        structure: 'House',
        street: '1 Invented Road',
        me: { name: 'A. Technician', certificationNumber: 'INV-1' },
      },
      es,
    ),
    grams,
  });

  it('take a decimal comma', () => {
    expect(isComplete(legal('0,5'), es)).toBe(true);
    expect(toApplication(legal('0,5')).grams).toBe(0.5);
    expect(toApplication(legal('0.5')).grams).toBe(0.5);
  });

  it('are never guessed where they can be read two ways', () => {
    expect(isComplete(legal('1,250'), es)).toBe(false);
    expect(wrongWith('grams', legal('1,250'), es)).toBe(decimalFault('1,250', es));
    expect(toApplication(legal('1,250')).grams).toBeNaN();
  });

  it('are more than nothing', () => {
    expect(wrongWith('grams', legal('0,0'), es)).toBe(es.record.notNumber(es.record.grams));
    expect(wrongWith('grams', legal('-1,5'), es)).toBe(es.record.notNumber(es.record.grams));
  });
});

it('the numbers of a label profile take a decimal comma, and none of two readings', () => {
  const draft = draftOf(DEMO_PROFILE);
  const withGrams = (text: string) =>
    profileOfDraft({
      ...draft,
      activeIngredientPercent: '0,5',
      sourced: new Map(draft.sourced).set('baitGramsPerInsert', {
        boxes: [text],
        source: 'the label',
        invented: true,
      }),
    });
  expect(withGrams('37,5')).toMatchObject({
    product: { activeIngredientPercent: 0.5 },
    baitGramsPerInsert: { value: 37.5 },
  });
  expect(withGrams('1,250')).toMatchObject({ baitGramsPerInsert: { value: Number.NaN } });
});
