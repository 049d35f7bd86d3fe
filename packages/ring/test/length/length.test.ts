import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatLength, getLength, parseLength } from '../../src/length/index.ts';

/** Values by hand from the definitions: 1 in = 25.4 mm, 1 ft = 304.8 mm exactly (NIST SP 811, appendix B). */
const WRITTEN: readonly (readonly [string, number])[] = [
  [`12' 6"`, 3.81],
  [`12'6"`, 3.81],
  [`12'-6"`, 3.81],
  [`12′ 6″`, 3.81],
  [`12’ 6”`, 3.81],
  [`12' 6''`, 3.81],
  [`12'6`, 3.81],
  ['12.5 ft', 3.81],
  ['12.5ft', 3.81],
  ['12 ft 6 in', 3.81],
  ['12 feet 6 inches', 3.81],
  ['12 pies 6 pulgadas', 3.81],
  ['3/8 pulgada', 0.009525],
  ['1 pie', 0.3048],
  ['3 metros 81 centímetros', 3.81],
  ['3/8"', 0.009525],
  [`6 3/8"`, 0.161925],
  [`6-3/8 in`, 0.161925],
  [`1' 0 1/2"`, 0.3175],
  ['3.81 m', 3.81],
  ['3 m 81 cm', 3.81],
  ['3,81 m', 3.81],
  ['0,125 m', 0.125],
  ['12,5 ft', 3.81],
  [`6,5"`, 0.1651],
  ['1,2500 m', 1.25],
  ['15 cm', 0.15],
  ['4 mm', 0.004],
  ['.5 m', 0.5],
  [`-2'`, -0.6096],
  [`0"`, 0],
];

describe('parseLength', () => {
  it.each(WRITTEN)('reads %s', (text, expected) => {
    expect(getLength(text)).toBe(expected);
  });

  it('reads a bare number only in a unit that was agreed', () => {
    expect(getLength('10', 'ft')).toBe(3.048);
    expect(getLength('10', 'm')).toBe(10);
    expect(parseLength('10')).toMatchObject({ ok: false, fault: 'no unit' });
  });

  it.each([
    ['', 'empty'],
    ['about six', 'not a length'],
    ['1,250 m', 'two readings'],
    ['12,500 ft', 'two readings'],
    ['1,250.5 ft', 'two readings'],
    ['1,2,3 m', 'parts do not fit'],
    ['12, 5 m', 'not a length'],
    [`5' 14"`, 'inches over a foot'],
    [`5.5' 3"`, 'parts do not fit'],
    [`1' 2" 3"`, 'parts do not fit'],
    ['6 in 2 ft', 'parts do not fit'],
    ['10 6 in', 'parts do not fit'],
    ['3/0"', 'divided by nothing'],
    ['12345678901 m', 'too many digits'],
    ['123456789 1/999999999 in', 'too many digits'],
    ['12 yards', 'not a length'],
    ['12 m!', 'not a length'],
  ])('refuses %j as "%s" and quotes it', (text, fault) => {
    const result = parseLength(text, 'ft');
    expect(result).toMatchObject({ ok: false, fault });
    if (!result.ok) expect(result.message).toContain(JSON.stringify(text));
  });

  it('never throws and never reads what it cannot', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const result = parseLength(text);
        expect(result.ok ? Number.isFinite(result.metres) : result.message.length > 10).toBe(true);
      }),
    );
  });
});

describe('formatLength', () => {
  it.each([
    [3.81, `12' 6"`],
    [0.3048, `1'`],
    [0.1524, `6"`],
    [0.009525, `3/8"`],
    [0.3175, `1' 1/2"`],
    [0.304_79, `1'`],
    [0, `0"`],
    [-0.6096, `-2'`],
    [-0.000_01, `0"`],
  ])('writes %d m as %s', (value, text) => {
    expect(formatLength(value, { style: 'feet and inches' })).toBe(text);
  });

  it('writes metres and decimal feet', () => {
    expect(formatLength(3.81, { style: 'metres' })).toBe('3.81 m');
    expect(formatLength(10, { style: 'metres' })).toBe('10 m');
    expect(formatLength(3.81, { style: 'decimal feet' })).toBe('12.5 ft');
    expect(formatLength(100, { style: 'metres', decimals: 0 })).toBe('100 m');
  });

  it('comes back to the same tape mark, exactly', () => {
    fc.assert(
      fc.property(fc.integer({ min: -500_000, max: 500_000 }), (sixteenths) => {
        const value = (sixteenths * 254) / 160_000;
        expect(getLength(formatLength(value, { style: 'feet and inches' }))).toBeCloseTo(value, 12);
      }),
    );
  });

  it('is off by no more than half a mark', () => {
    fc.assert(
      fc.property(fc.double({ min: -300, max: 300, noNaN: true }), (value) => {
        const back = getLength(formatLength(value, { style: 'feet and inches', partsOfInch: 64 }));
        expect(Math.abs(back - value)).toBeLessThanOrEqual(0.0254 / 128 + 1e-9);
        const metric = getLength(formatLength(value, { style: 'metres', decimals: 3 }));
        expect(Math.abs(metric - value)).toBeLessThanOrEqual(0.0005 + 1e-9);
      }),
    );
  });
});
