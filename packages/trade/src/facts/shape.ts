/** Small checks of the shape of values that come from outside; each names the place and the remedy. */
export interface ShapeProblem {
  /** Where, from the fact down: `body.application.grams`. */
  readonly path: string;
  readonly code: 'malformed' | 'legal field missing';
  readonly detail: string;
  readonly remedy: string;
}

export type Check = (value: unknown, path: string, out: ShapeProblem[]) => void;
export type Fields = Readonly<Record<string, unknown>>;

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function malformed(out: ShapeProblem[], path: string, detail: string, remedy: string): void {
  out.push({ path, code: 'malformed', detail, remedy });
}

const MOST_TEXT = 20_000;

export const text: Check = (value, path, out) => {
  if (typeof value !== 'string') malformed(out, path, 'is not text', 'give text');
  else if (value.length > MOST_TEXT)
    malformed(out, path, `is longer than ${MOST_TEXT} characters`, 'shorten it');
};

export const filled: Check = (value, path, out) => {
  if (typeof value !== 'string' || value.trim() === '')
    malformed(out, path, 'is empty', 'give at least one word');
  else text(value, path, out);
};

export const flag: Check = (value, path, out) => {
  if (typeof value !== 'boolean') malformed(out, path, 'is neither true nor false', 'give true or false');
};

/** Any JSON value. */
export const anything: Check = (value, path, out) => {
  if (value === undefined) malformed(out, path, 'is missing', 'give a value, or null');
};

export function numberFrom(least: number, most: number, whole = false): Check {
  return (value, path, out) => {
    const fits =
      typeof value === 'number' && value >= least && value <= most && (!whole || Number.isInteger(value));
    if (!fits)
      malformed(
        out,
        path,
        `is not a ${whole ? 'whole ' : ''}number from ${least} to ${most}`,
        'correct the number',
      );
  };
}

export function oneOf(words: readonly string[]): Check {
  return (value, path, out) => {
    if (!words.some((word) => word === value))
      malformed(out, path, 'is not one of the words for this', `use one of: ${words.join(', ')}`);
  };
}

export function orNull(check: Check): Check {
  return (value, path, out) => {
    if (value !== null) check(value, path, out);
  };
}

/** For a field that may be left out. */
export function optional(check: Check): Check {
  return (value, path, out) => {
    if (value !== undefined) check(value, path, out);
  };
}

export function listOf(check: Check, most = 10_000): Check {
  return (value, path, out) => {
    if (!Array.isArray(value))
      return malformed(out, path, 'is not a list', 'give a list, which may be empty');
    if (value.length > most) return malformed(out, path, `has more than ${most} entries`, 'shorten the list');
    value.forEach((item, index) => {
      check(item, `${path}[${index}]`, out);
    });
  };
}

/** Exactly two numbers: x east and y north, metres, within 10 km of the property's origin. */
export const point: Check = (value, path, out) => {
  const fits =
    Array.isArray(value) &&
    value.length === 2 &&
    value.every((each) => typeof each === 'number' && Math.abs(each) <= 10_000);
  if (!fits)
    malformed(out, path, 'is not a pair of metres within 10 km', 'give [east, north] in local metres');
};

/** Every named field is checked; fields beyond them are left alone, for a newer phone may send more. */
export function fields(checks: Readonly<Record<string, Check>>): Check {
  const entries = Object.entries(checks);
  return (value, path, out) => {
    if (!isFields(value)) return malformed(out, path, 'is not an object', 'give its named fields');
    for (const [name, check] of entries) check(value[name], path === '' ? name : `${path}.${name}`, out);
  };
}

/** As fields, but a field that is absent is fine. */
export function someFields(checks: Readonly<Record<string, Check>>): Check {
  const entries = Object.entries(checks);
  return (value, path, out) => {
    if (!isFields(value)) return malformed(out, path, 'is not an object', 'give its named fields');
    for (const [name, check] of entries)
      if (value[name] !== undefined) check(value[name], `${path}.${name}`, out);
  };
}

/** part id -> whole count */
export const countsByName: Check = (value, path, out) => {
  if (!isFields(value)) return malformed(out, path, 'is not an object of counts', 'give { part: count }');
  for (const [name, count] of Object.entries(value)) {
    if (typeof count !== 'number' || !Number.isInteger(count) || count < 0 || count > 10_000) {
      malformed(out, `${path}.${name}`, 'is not a whole number from 0 to 10000', 'correct the count');
    }
  }
};
