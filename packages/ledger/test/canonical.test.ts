import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../src/index.ts';

describe('canonical JSON', () => {
  // Source: RFC 8785, sections 3.2.2 (sample input) and 3.2.3 / 3.2.4 (its canonical form).
  test("writes RFC 8785's sample as the RFC does", () => {
    const input: unknown = JSON.parse(String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`);
    expect(canonicalJson(input)).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  // Source: RFC 8785, section 3.2.3 (property sorting by UTF-16 code unit).
  test("sorts RFC 8785's keys as the RFC does", () => {
    const input: unknown = JSON.parse(String.raw`{
      "\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face", "\u0080": "Control", "\u00f6": "Latin Small Letter O With Diaeresis"
    }`);
    expect(Object.values<unknown>(JSON.parse(canonicalJson(input)))).toHaveLength(7);
    const order = [...canonicalJson(input).matchAll(/:"([^"]+)"/g)].map(([, value]) => value);
    expect(order).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  test('means the same as the value, does not depend on key order, and is its own fixed point', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
        expect(canonicalJson(JSON.parse(text))).toBe(text);
        expect(canonicalJson(reverseKeys(value))).toBe(text);
      }),
      { numRuns: 500 },
    );
  });

  test('refuses what JSON cannot hold', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, 1n, () => 1, Symbol('x'), undefined])
      expect(() => canonicalJson({ a: [value] })).toThrow(TypeError);
    expect(canonicalJson({ a: undefined, b: -0 })).toBe('{"b":0}');
  });
});

function reverseKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reverseKeys);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([key, item]): [string, unknown] => [key, reverseKeys(item)]);
  return Object.fromEntries(entries.toReversed());
}
