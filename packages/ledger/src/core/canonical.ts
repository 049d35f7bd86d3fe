/**
 * JSON in one canonical form: keys sorted by UTF-16 code unit, no white space, numbers and strings as ECMAScript writes them
 * (RFC 8785). Equal values give equal text, so that content can be compared and hashed.
 *
 * One deviation from RFC 8785: half a surrogate pair is written as `\udXXX` instead of being refused, because a note cut
 * in the middle of an emoji is still an observation. Properties that are `undefined` are left out, as in `JSON.stringify`.
 *
 * @throws TypeError for what JSON cannot hold (not-a-number, infinity, bigint, functions), and RangeError when nested too deeply.
 * @example canonicalJson({ b: 1, a: [true, null] }) // '{"a":[true,null],"b":1}'
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new TypeError(`${value} cannot be written as JSON`);
    return JSON.stringify(value);
  }
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object') return canonicalObject(value);
  throw new TypeError(`a value of type ${typeof value} cannot be written as JSON`);
}

function canonicalObject(value: object): string {
  const entries: [string, unknown][] = Object.entries(value);
  entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  let text = '';
  for (const [key, item] of entries) {
    if (item === undefined) continue;
    text += `${text === '' ? '' : ','}${JSON.stringify(key)}:${canonicalJson(item)}`;
  }
  return `{${text}}`;
}
