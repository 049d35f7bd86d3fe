/** An answer with no list of properties or stations longer than asked for, and how many rows that left out. */
export interface CutAnswer {
  readonly answer: unknown;
  readonly rowsLeftOut: number;
  /** every property that a row still names */
  readonly properties: readonly string[];
}

/** Cuts lists of rows that name a property to their first `most`: the worst, the likeliest, the latest stand first in each. */
export function cutRows(whole: unknown, most: number): CutAnswer {
  let rowsLeftOut = 0;
  const properties = new Set<string>();
  const cut = (value: unknown): unknown => {
    if (Array.isArray(value)) {
      const rows = value.some(namesProperty) ? value.slice(0, most) : value;
      rowsLeftOut += value.length - rows.length;
      return rows.map(cut);
    }
    if (typeof value !== 'object' || value === null) return value;
    if (namesProperty(value)) properties.add(value.property);
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, cut(one)]));
  };
  return { answer: cut(whole), rowsLeftOut, properties: [...properties] };
}

function namesProperty(value: unknown): value is { readonly property: string } {
  return (
    typeof value === 'object' && value !== null && 'property' in value && typeof value.property === 'string'
  );
}
