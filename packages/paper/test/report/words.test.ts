import {
  BAIT_LEFT,
  getDay,
  HOUSING_CONDITIONS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  PARTS,
  TERMITE_FINDINGS,
  WORKS,
} from '@sillwatch/trade';
import { expect, test } from 'vitest';
import { dayInWords, massInWords, numbersInWords, plainNumber } from '../../src/report/format.ts';
import { EN, type MessageKey } from '../../src/report/words/en.ts';
import { ES } from '../../src/report/words/es.ts';
import { sayIn } from '../../src/report/words/say.ts';

type Message = string | { readonly one: string; readonly other: string };

function slots(message: Message): readonly string[] {
  const text = typeof message === 'string' ? message : message.other;
  return [...text.matchAll(/\{(\w+)\}/g)].map((match) => match[1] ?? '').sort();
}

test('every language has every message, with the same slots and plurals', () => {
  const keys = Object.keys(EN);
  expect(Object.keys(ES).sort()).toEqual([...keys].sort());
  for (const key of keys) {
    const english: Message = EN[key as MessageKey];
    const spanish: Message = ES[key as MessageKey];
    expect([key, slots(spanish)]).toEqual([key, slots(english)]);
    expect([key, typeof spanish]).toEqual([key, typeof english]);
  }
});

test('every word of the closed lists of the trade can be said', () => {
  const keys = new Set(Object.keys(EN));
  for (const [prefix, words] of [
    ['termites', TERMITE_FINDINGS],
    ['baitLeft', BAIT_LEFT],
    ['monitor', MONITOR_CONDITIONS],
    ['housing', HOUSING_CONDITIONS],
    ['occupants', OCCUPANTS],
    ['work', WORKS],
    ['part', Object.keys(PARTS)],
  ] as const)
    for (const word of words) expect(keys).toContain(`${prefix}.${word}`);
});

test('a message without its value is refused by name', () => {
  expect(() => sayIn('en-US')('station')).toThrow(/station needs a value for \{number\}/);
});

test('plurals follow the language', () => {
  const say = sayIn('en-US');
  expect(say('visit.count.opened', { n: 1 })).toBe('station opened');
  expect(say('visit.count.opened', { n: 0 })).toBe('stations opened');
});

test('numbers are gathered into runs', () => {
  const say = sayIn('en-US');
  expect(numbersInWords([], say)).toBe('');
  expect(numbersInWords([4], say)).toBe('4');
  expect(numbersInWords([5, 4], say)).toBe('4 and 5');
  expect(numbersInWords([3, 1, 2, 7, 7, 9, 10], say)).toBe('1 to 3, 7, 9 and 10');
});

test('days and amounts read as Americans write them', () => {
  expect(dayInWords(getDay('2024-02-29'), 'en-US')).toBe('February 29, 2024');
  expect(dayInWords(getDay('2024-02-29'), 'es-US')).toBe('29 de febrero de 2024');
  // 1 oz = 28.349523125 g exactly (NIST SP 811, appendix B)
  expect(massInWords(28.349523125, sayIn('en-US'))).toBe('28.35 g (1.00 oz)');
  expect(plainNumber(0.1 + 0.2)).toBe('0.3');
});
