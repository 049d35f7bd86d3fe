import { type Metres, metres } from '@sillwatch/trade/units';

/** The unit a bare number is read in, and the one a drawing speaks. */
export type LengthUnit = 'ft' | 'm';

export type LengthFault =
  | 'empty'
  | 'not a length'
  | 'no unit'
  | 'two readings'
  | 'inches over a foot'
  | 'parts do not fit'
  | 'divided by nothing'
  | 'too many digits';

/** A refusal quotes the text and says how to write it. */
export type LengthResult =
  | { readonly ok: true; readonly metres: Metres }
  | { readonly ok: false; readonly fault: LengthFault; readonly message: string };

/**
 * Reads one length as people write it: `12' 6"`, `12'-6 3/8"`, `12.5 ft`, `12 ft 6 in`, `3/8"`, `3.81 m`, `15 cm`.
 * The result is the double nearest to the exact value: one inch is 0.0254 m (NIST SP 811, appendix B), kept as a fraction to the end.
 * A bare number needs `bareUnit`; after feet a bare number is inches. Decimals stand behind a point or a comma; a comma before
 * three digits is decimals to some and thousands to others, and is refused.
 */
export function parseLength(text: string, bareUnit?: LengthUnit): LengthResult {
  const quoted = JSON.stringify(text);
  const refuse = (fault: LengthFault, remedy: string): LengthResult => ({
    ok: false,
    fault,
    message: `${quoted} is not a length that can be read: ${remedy}`,
  });
  const typed = text.trim();
  if (typed === '') return refuse('empty', `write one, for example 12' 6" or 3.81 m.`);
  if (/(?<![\d.,])[1-9]\d{0,2},\d{3}(?!\d)/.test(typed))
    return refuse('two readings', 'write a point for the decimals and nothing between thousands.');
  const trimmed = typed.replaceAll(/(?<=\d),(?=\d)/g, '.');
  if ((trimmed.match(/\d+(?:\.\d*)?/g) ?? []).some((number) => number.length > MOST_DIGITS))
    return refuse('too many digits', `at most ${MOST_DIGITS} digits a number.`);
  const sign = /^[-−]/.test(trimmed) ? -1 : 1;
  const parts = splitParts(trimmed.replace(/^[-−+]\s*/, ''));
  if (parts === undefined)
    return refuse('not a length', `write it like 12' 6", 12.5 ft, 3/8", 3.81 m or 15 cm.`);
  if (parts.some((part) => part.denominator === 0))
    return refuse('divided by nothing', 'a fraction needs a number above 0 under its stroke.');
  const [first, second, third] = parts;
  if (first === undefined || third !== undefined)
    return refuse('parts do not fit', 'give feet and inches, or one number with its unit.');
  const firstUnit = first.unit ?? bareUnit;
  if (firstUnit === undefined)
    return refuse('no unit', `say which unit: ${trimmed} ft, ${trimmed} in or ${trimmed} m.`);
  const accept = (fractions: readonly Fraction[]): LengthResult => {
    const length = addUp(fractions);
    // Past 2^53 the whole numbers are no longer exact.
    if (!Number.isSafeInteger(length.numerator) || !Number.isSafeInteger(length.denominator * 100_000))
      return refuse('too many digits', 'write fewer of them.');
    // `+ 0` so that -0 never leaves here.
    return { ok: true, metres: metres((sign * length.numerator) / (length.denominator * 100_000) + 0) };
  };
  if (second === undefined) return accept([toFraction(first, firstUnit)]);
  const secondUnit = second.unit ?? (firstUnit === 'ft' ? 'in' : undefined);
  const isFeetAndInches = firstUnit === 'ft' && secondUnit === 'in' && first.unit !== undefined;
  const isMetresAndCentimetres = firstUnit === 'm' && secondUnit === 'cm';
  if (!isFeetAndInches && !isMetresAndCentimetres)
    return refuse('parts do not fit', 'only inches go with feet, and only centimetres with metres.');
  if (!first.isWhole)
    return refuse('parts do not fit', 'with a second part the first must be a whole number.');
  const limit = isFeetAndInches ? 12 : 100;
  if (second.numerator >= limit * second.denominator)
    return refuse('inches over a foot', `the second part must be less than ${limit}.`);
  return accept([toFraction(first, firstUnit), toFraction(second, isFeetAndInches ? 'in' : 'cm')]);
}

/** As parseLength; throws a RangeError that quotes the text. */
export function getLength(text: string, bareUnit?: LengthUnit): Metres {
  const result = parseLength(text, bareUnit);
  if (!result.ok) throw new RangeError(result.message);
  return result.metres;
}

/** A number longer than this is no length on a property; the point counts. */
const MOST_DIGITS = 10;

type PartUnit = 'ft' | 'in' | 'm' | 'cm' | 'mm';

interface Part {
  readonly numerator: number;
  readonly denominator: number;
  readonly isWhole: boolean;
  readonly unit: PartUnit | undefined;
}

/** Hundredths of a millimetre in one of each: whole numbers, so nothing is rounded before the last division. */
const HUNDREDTHS_OF_MM: Readonly<Record<PartUnit, number>> = {
  ft: 30_480,
  in: 2540,
  m: 100_000,
  cm: 1000,
  mm: 100,
};

interface Fraction {
  readonly numerator: number;
  readonly denominator: number;
}

function toFraction(part: Part, unit: PartUnit): Fraction {
  return { numerator: part.numerator * HUNDREDTHS_OF_MM[unit], denominator: part.denominator };
}

function addUp(fractions: readonly Fraction[]): Fraction {
  return fractions.reduce((a, b) => ({
    numerator: a.numerator * b.denominator + b.numerator * a.denominator,
    denominator: a.denominator * b.denominator,
  }));
}

const UNIT_WORDS: readonly (readonly [RegExp, PartUnit])[] = [
  [/^(?:''|"|″|”|inches|inch|in\b\.?|pulgadas?\b)/i, 'in'],
  [/^(?:'|′|’|feet|foot|ft\b\.?|pies?\b)/i, 'ft'],
  [/^(?:centimetres?|centimeters?|cent[ií]metros?|cm\b)/i, 'cm'],
  [/^(?:millimetres?|millimeters?|mil[ií]metros?|mm\b)/i, 'mm'],
  [/^(?:metres?|meters?|metros?|m\b)/i, 'm'],
];

/** `6 3/8`, `6-3/8`, `3/8`, `12.5`, `.5` or `12`, from the start of the text. */
const AMOUNT = /^(?:(\d+)[\s-]+(\d+)\s*[/⁄]\s*(\d+)|(\d+)\s*[/⁄]\s*(\d+)|(\d*)\.(\d+)|(\d+)\.?)/;

/** Undefined when something stands there that is no number and no unit. */
function splitParts(text: string): Part[] | undefined {
  const parts: Part[] = [];
  let rest = text.trim();
  while (rest !== '') {
    const match = AMOUNT.exec(rest);
    if (match === null) return undefined;
    rest = rest.slice(match[0].length).trimStart();
    const amount = toAmount(match);
    const word = UNIT_WORDS.find(([pattern]) => pattern.test(rest));
    if (word !== undefined) rest = rest.replace(word[0], '').trimStart();
    parts.push({ ...amount, unit: word?.[1] });
    // The hyphen of 12'-6".
    if (word?.[1] === 'ft') rest = rest.replace(/^-\s*/, '');
  }
  return parts;
}

function toAmount(match: RegExpExecArray): Omit<Part, 'unit'> {
  const [, whole, upper, lower, onlyUpper, onlyLower, before, after, plain] = match;
  if (upper !== undefined)
    return {
      numerator: Number(whole) * Number(lower) + Number(upper),
      denominator: Number(lower),
      isWhole: false,
    };
  if (onlyUpper !== undefined)
    return { numerator: Number(onlyUpper), denominator: Number(onlyLower), isWhole: false };
  if (after !== undefined)
    return { numerator: Number(`${before ?? ''}${after}`), denominator: 10 ** after.length, isWhole: false };
  return { numerator: Number(plain), denominator: 1, isWhole: true };
}
