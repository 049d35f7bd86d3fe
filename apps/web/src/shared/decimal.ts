import type { YardWords } from '../words/index.ts';

export type DecimalResult =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly fault: 'empty' | 'not a number' }
  /** One comma before three digits: decimals to some, thousands to others. Both readings, as they are to be written. */
  | { readonly ok: false; readonly fault: 'two readings'; readonly decimal: string; readonly whole: string };

interface Bounds {
  /** The greatest size that there can be: a reading past it is none. */
  readonly most?: number;
}

/**
 * Reads a number as it is typed, with a point or a comma before its decimals and nothing between its thousands.
 * A point always stands before decimals: forms fill in their numbers with it.
 */
export function readDecimal(text: string, { most = Number.POSITIVE_INFINITY }: Bounds = {}): DecimalResult {
  const trimmed = text.trim().replace('−', '-');
  if (trimmed === '') return { ok: false, fault: 'empty' };
  if (!/^[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)$/.test(trimmed)) return { ok: false, fault: 'not a number' };
  const value = Number(trimmed.replace(',', '.'));
  const whole = Number(trimmed.replace(',', ''));
  // No thousands begin with a zero or follow more than three digits.
  if (/^[+-]?[1-9]\d{0,2},\d{3}$/.test(trimmed) && Math.abs(whole) <= most)
    return { ok: false, fault: 'two readings', decimal: String(value), whole: String(whole) };
  return { ok: true, value };
}

/** As readDecimal; NaN where nothing can be read. */
export function decimalOf(text: string, bounds?: Bounds): number {
  const read = readDecimal(text, bounds);
  return read.ok ? read.value : Number.NaN;
}

/** As readDecimal, for what comes in whole pieces, none or more; undefined where that cannot be read. */
export function readCount(text: string): number | undefined {
  const read = readDecimal(text);
  return read.ok && Number.isSafeInteger(read.value) && read.value >= 0 ? read.value : undefined;
}

/** Why a number cannot be read, in words; undefined = it can, or nothing is typed. */
export function decimalFault(
  text: string,
  w: Pick<YardWords, 'decimal'>,
  bounds?: Bounds,
): string | undefined {
  const read = readDecimal(text, bounds);
  if (read.ok || read.fault === 'empty') return undefined;
  return read.fault === 'two readings'
    ? w.decimal.twoReadings(text.trim(), read.decimal, read.whole)
    : w.decimal.notNumber;
}
