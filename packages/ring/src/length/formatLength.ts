import { METRES_PER_FOOT } from '@sillwatch/trade/units';

export type LengthStyle = 'feet and inches' | 'decimal feet' | 'metres';

export interface LengthFormat {
  readonly style: LengthStyle;
  /** Parts of an inch kept, a power of two: 1, 2, 4, 8, 16 (the tape's), 32, 64. Feet and inches only. */
  readonly partsOfInch?: 1 | 2 | 4 | 8 | 16 | 32 | 64;
  /** Decimals of a foot or metre; trailing zeros are dropped. */
  readonly decimals?: number;
}

/** Writes metres as `12' 6 3/8"`, `12.5 ft` or `3.81 m`, rounded to the nearest mark (halves away from zero); parseLength reads it back. */
export function formatLength(lengthMetres: number, format: LengthFormat): string {
  if (!Number.isFinite(lengthMetres)) throw new RangeError(`not a length in metres: ${lengthMetres}`);
  const size = Math.abs(lengthMetres);
  const written = writeSize(size, format);
  return lengthMetres < 0 && /[1-9]/.test(written) ? `-${written}` : written;
}

function writeSize(sizeMetres: number, format: LengthFormat): string {
  switch (format.style) {
    case 'metres':
      return `${writeDecimal(sizeMetres, format.decimals ?? 2)} m`;
    case 'decimal feet':
      return `${writeDecimal(sizeMetres / METRES_PER_FOOT, format.decimals ?? 2)} ft`;
    case 'feet and inches':
      return writeFeetAndInches(sizeMetres, format.partsOfInch ?? 16);
  }
}

function writeDecimal(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

function writeFeetAndInches(sizeMetres: number, partsOfInch: number): string {
  // Rounded once, in the smallest part, so that 11 15/16 and a bit becomes the next foot and never 12 inches.
  const parts = Math.round((sizeMetres * 10_000 * partsOfInch) / 254);
  const perFoot = 12 * partsOfInch;
  const feet = Math.floor(parts / perFoot);
  const left = parts - feet * perFoot;
  const inches = Math.floor(left / partsOfInch);
  const fraction = writeFraction(left - inches * partsOfInch, partsOfInch);
  const inchText =
    inches === 0 && fraction !== '' ? fraction : [String(inches), fraction].filter(Boolean).join(' ');
  if (feet === 0) return `${inchText}"`;
  return left === 0 ? `${feet}'` : `${feet}' ${inchText}"`;
}

function writeFraction(numerator: number, denominator: number): string {
  if (numerator === 0) return '';
  let above = numerator;
  let below = denominator;
  while (above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  return `${above}/${below}`;
}
