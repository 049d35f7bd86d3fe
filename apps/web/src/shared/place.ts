import { decimalOf } from './decimal.ts';

export interface TypedPlace {
  readonly latitude: number;
  readonly longitude: number;
}

/**
 * Latitude and longitude in degrees, as maps write them: `31.25, -47.6`, or with a decimal comma `31,25 -47,6`. A comma with no space and no
 * point about it may stand before decimals, so that `28,5` is no place. Undefined where nothing can be read, or not on the earth.
 */
export function readPlace(text: string): TypedPlace | undefined {
  const spaced = text.trim().split(/\s*;\s*|,?\s+/);
  const parts = spaced.length === 1 && text.includes('.') ? text.trim().split(',') : spaced;
  const [latitude = Number.NaN, longitude = Number.NaN, ...more] = parts.map((part) =>
    decimalOf(part, { most: 180 }),
  );
  const fits = Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180 && more.length === 0;
  return fits ? { latitude, longitude } : undefined;
}
