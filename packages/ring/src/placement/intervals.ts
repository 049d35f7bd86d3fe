/** A closed stretch of a line that is cut open at 0: 0 <= from <= to <= the length of the line. Metres. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/** Sorted and disjoint; stretches that touch or lie within `slack` metres of each other become one. */
export function unite(intervals: readonly Interval[], slack = 1e-9): readonly Interval[] {
  const sorted = intervals.toSorted((a, b) => a.from - b.from);
  const united: Interval[] = [];
  let open: Interval | undefined;
  for (const next of sorted) {
    if (open !== undefined && next.from <= open.to + slack) {
      open = { from: open.from, to: Math.max(open.to, next.to) };
    } else {
      if (open !== undefined) united.push(open);
      open = next;
    }
  }
  if (open !== undefined) united.push(open);
  return united;
}

/** What is left of 0 to `length`; `intervals` sorted and disjoint. */
export function complement(intervals: readonly Interval[], length: number): readonly Interval[] {
  const left: Interval[] = [];
  let cursor = 0;
  for (const { from, to } of intervals) {
    if (from > cursor) left.push({ from: cursor, to: from });
    cursor = Math.max(cursor, to);
  }
  if (cursor < length) left.push({ from: cursor, to: length });
  return left;
}

/** Both sorted and disjoint. */
export function intersect(a: readonly Interval[], b: readonly Interval[]): readonly Interval[] {
  const common: Interval[] = [];
  let second = 0;
  for (const one of a) {
    while (second > 0 && (b[second - 1]?.to ?? 0) >= one.from) second--;
    for (let other = b[second]; other !== undefined && other.from <= one.to; other = b[second]) {
      const from = Math.max(one.from, other.from);
      const to = Math.min(one.to, other.to);
      if (to > from) common.push({ from, to });
      second++;
    }
  }
  return common;
}

/** Splits a stretch that may lie anywhere on the unrolled closed line into stretches between 0 and `length`. */
export function wrap(from: number, to: number, length: number): readonly Interval[] {
  if (to - from >= length) return [{ from: 0, to: length }];
  const start = ((from % length) + length) % length;
  const end = start + (to - from);
  return end <= length
    ? [{ from: start, to: end }]
    : [
        { from: start, to: length },
        { from: 0, to: end - length },
      ];
}

/** Without stretches under `narrowest` metres; sorted, disjoint. One that runs through the first point of the closed line counts as one. */
export function dropNarrow(
  stretches: readonly Interval[],
  length: number,
  narrowest: number,
): readonly Interval[] {
  const first = stretches[0];
  const last = stretches[stretches.length - 1];
  const isJoined =
    first !== undefined &&
    last !== undefined &&
    first !== last &&
    first.from <= 0 &&
    last.to >= length - 1e-9;
  const joined = isJoined ? first.to - first.from + last.to - last.from : 0;
  return stretches.filter((arc) => {
    const width = isJoined && (arc === first || arc === last) ? joined : arc.to - arc.from;
    return width >= narrowest;
  });
}

export function totalLength(intervals: readonly Interval[]): number {
  return intervals.reduce((sum, { from, to }) => sum + (to - from), 0);
}
