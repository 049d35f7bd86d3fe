import { expect, it } from 'vitest';
import { readPlace } from '../src/shared/place.ts';

it('reads a place as maps write it, and with decimal commas', () => {
  const place = { latitude: 31.25, longitude: -47.6 };
  for (const text of [
    '31.25, -47.6',
    '31.25,-47.60',
    ' 31.25  -47.6 ',
    '31,25 -47,60',
    '31,25; -47,6',
    '31,250, -47,600',
  ])
    expect(readPlace(text), text).toEqual(place);
  expect(readPlace('31, −47')).toEqual({ latitude: 31, longitude: -47 });
});

it('refuses what is one number, or lies nowhere', () => {
  for (const text of ['28,5', '31,25,-47,6', '31.25', '', '91, 0', '0, 181', '1, 2, 3', '12,', 'north, west'])
    expect(readPlace(text), text).toBeUndefined();
});
