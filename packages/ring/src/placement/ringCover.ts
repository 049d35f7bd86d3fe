/**
 * The placement problem on one station line, unrolled: a closed line of `length` metres, the arcs of it on which a station can
 * stand, and the greatest spacing. A point of the line is guarded when a station stands within half the spacing along the line.
 * Positions are metres along the line in [0, length); an arc may run over the end (from > to then), and `from` = `to` is a single point.
 */
export interface Arc {
  readonly from: number;
  readonly to: number;
}

export interface RingProblem {
  readonly length: number;
  /** Disjoint, in order of `from`; a single arc from 0 to `length` is the whole line. */
  readonly arcs: readonly Arc[];
  readonly spacing: number;
}

export interface RingCover {
  /** In order along the line. */
  readonly stations: readonly number[];
  /** What no station can guard, in order: from and to along the line. */
  readonly unguarded: readonly Arc[];
  /** Greatest distance between neighbours whose stretch between them is guarded; 0 with fewer than two stations and no closed ring. */
  readonly greatestGap: number;
}

/** Positions closer than this (metres) are the same: far under what anybody can set out. */
export const SAME_PLACE = 1e-7;

/**
 * Fewest stations that guard all that can be guarded, and among those the smallest greatest gap. Exact; see docs/rules/placement.md
 * for the proof. Throws a RangeError for a length or spacing that is not above 0, or arcs that overlap.
 */
export function coverRing(problem: RingProblem): RingCover {
  checkProblem(problem);
  const { length, spacing } = problem;
  const arcs = unroll(problem);
  const [first] = arcs;
  if (first === undefined) return { stations: [], unguarded: [{ from: 0, to: length }], greatestGap: 0 };
  if (isWhole(first, length)) return coverWholeLine(length, spacing);
  const blocks = splitAtHoles(arcs, length, spacing);
  return blocks === undefined ? coverClosed(arcs, length, spacing) : coverBlocks(blocks, length, spacing);
}

function checkProblem({ length, arcs, spacing }: RingProblem): void {
  if (!(length > 0) || !(spacing > 0) || !Number.isFinite(length + spacing)) {
    throw new RangeError(`a ring has a length and a spacing above 0 m, not ${length} and ${spacing}`);
  }
  let end = Number.NEGATIVE_INFINITY;
  for (const { from, to } of arcs) {
    if (!(from >= 0 && from <= length && to >= 0 && to <= length))
      throw new RangeError(`the arc ${from} to ${to} leaves the line of ${length} m`);
    if (from < end - SAME_PLACE) throw new RangeError(`the arc from ${from} overlaps the one before it`);
    end = to < from ? length + to : to;
  }
  const [first] = arcs;
  if (first !== undefined && end > length + first.from + SAME_PLACE)
    throw new RangeError('the last arc overlaps the first');
}

/** Arcs with to >= from (beyond `length` where they run over the end), those that touch joined. */
function unroll({ length, arcs }: RingProblem): Arc[] {
  const joined: { from: number; to: number }[] = [];
  for (const arc of arcs) {
    const from = arc.from;
    const to = arc.to < arc.from ? arc.to + length : arc.to;
    const last = joined.at(-1);
    if (last !== undefined && from <= last.to + SAME_PLACE) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  const first = joined[0];
  const last = joined.at(-1);
  if (
    first !== undefined &&
    last !== undefined &&
    first !== last &&
    last.to >= first.from + length - SAME_PLACE
  ) {
    last.to = Math.max(last.to, first.to + length);
    joined.shift();
  }
  return joined;
}

function isWhole({ from, to }: Arc, length: number): boolean {
  return to - from >= length - SAME_PLACE;
}

function coverWholeLine(length: number, spacing: number): RingCover {
  const count = Math.max(1, Math.ceil(length / spacing - SAME_PLACE));
  const gap = length / count;
  return {
    stations: Array.from({ length: count }, (_, index) => index * gap),
    unguarded: [],
    greatestGap: gap,
  };
}

/** Runs of arcs between holes: ground without a place for more than the spacing. Undefined when there is no hole. */
function splitAtHoles(
  arcs: readonly Arc[],
  length: number,
  spacing: number,
): readonly (readonly Arc[])[] | undefined {
  const afterHole = arcs.findIndex(
    (arc, index) => arc.from - endBefore(arcs, index, length) > spacing + SAME_PLACE,
  );
  if (afterHole === -1) return undefined;
  const inOrder = [
    ...arcs.slice(afterHole),
    ...arcs.slice(0, afterHole).map(({ from, to }) => ({ from: from + length, to: to + length })),
  ];
  const blocks: Arc[][] = [];
  for (const arc of inOrder) {
    const block = blocks.at(-1);
    const end = block?.at(-1)?.to;
    if (block === undefined || end === undefined || arc.from - end > spacing + SAME_PLACE) blocks.push([arc]);
    else block.push(arc);
  }
  return blocks;
}

function endBefore(arcs: readonly Arc[], index: number, length: number): number {
  const before = arcs[index - 1];
  return before === undefined ? (arcs.at(-1)?.to ?? 0) - length : before.to;
}

/**
 * Beside a hole the ends of a block are pinned: only a station at the very end guards the half spacing that reaches into the hole.
 */
function coverBlocks(blocks: readonly (readonly Arc[])[], length: number, spacing: number): RingCover {
  const stations: number[] = [];
  let greatestGap = 0;
  for (const block of blocks) {
    const chain = coverBlock(block, spacing);
    greatestGap = Math.max(greatestGap, greatestStep(chain));
    stations.push(...chain);
  }
  const unguarded = blocks.map((block, index): Arc => {
    const next = blocks[index + 1]?.[0] ?? blocks[0]?.[0];
    const end = block.at(-1)?.to ?? 0;
    const resume = (next?.from ?? 0) + (index + 1 < blocks.length ? 0 : length);
    return { from: wrap(end + spacing / 2, length), to: wrap(resume - spacing / 2, length) };
  });
  return { stations: stations.map((at) => wrap(at, length)).sort((a, b) => a - b), unguarded, greatestGap };
}

function coverBlock(block: readonly Arc[], spacing: number): readonly number[] {
  const from = block[0]?.from ?? 0;
  const to = block.at(-1)?.to ?? 0;
  if (to - from <= SAME_PLACE) return [from];
  const fewest = chainBetween(block, from, to, spacing);
  if (fewest === undefined) throw new Error('a block without a hole can be covered');
  const count = fewest.length;
  return leastGap(fewest, spacing, (to - from) / (count - 1), (gap) => {
    const chain = chainBetween(block, from, to, gap);
    return chain !== undefined && chain.length <= count ? chain : undefined;
  });
}

/** The longest steps of at most `gap` from `from` to `to`; undefined where the ground has no place within a step. */
function chainBetween(
  arcs: readonly Arc[],
  from: number,
  to: number,
  gap: number,
): readonly number[] | undefined {
  const chain = [from];
  for (let at = from; at < to - SAME_PLACE; ) {
    const next = to - at <= gap + SAME_PLACE ? to : lastPlaceUpTo(arcs, at + gap);
    if (next === undefined || next <= at + SAME_PLACE) return undefined;
    chain.push(next);
    at = next;
  }
  return chain;
}

function lastPlaceUpTo(arcs: readonly Arc[], limit: number): number | undefined {
  let found: number | undefined;
  for (const arc of arcs) {
    if (arc.from > limit + SAME_PLACE) break;
    found = Math.min(arc.to, Math.max(limit, arc.from));
  }
  return found;
}

/**
 * No hole: every point can be guarded, and the stations form a closed chain. Turning a solution forward until one of its stations meets
 * the end of its arc keeps all gaps, so an optimum stands on an arc's end: each is tried as the start of the longest steps.
 */
function coverClosed(arcs: readonly Arc[], length: number, spacing: number): RingCover {
  const starts = arcs.map((arc) => arc.to);
  const turn = [
    ...arcs,
    ...arcs.map(({ from, to }) => ({ from: from + length, to: to + length })),
    ...arcs.map(({ from, to }) => ({ from: from + 2 * length, to: to + 2 * length })),
  ];
  const bestWithin = (gap: number): readonly number[] | undefined => {
    let best: readonly number[] | undefined;
    for (const start of starts) {
      const chain = chainBetween(turn, start, start + length, gap);
      if (chain !== undefined && (best === undefined || chain.length < best.length)) best = chain;
    }
    return best;
  };
  const fewest = bestWithin(spacing);
  if (fewest === undefined) throw new Error('a ring without a hole can be covered');
  const count = fewest.length;
  const chain = leastGap(fewest, spacing, length / (count - 1), (gap) => {
    const found = bestWithin(gap);
    return found !== undefined && found.length <= count ? found : undefined;
  });
  return {
    // The last is the first again, one turn on.
    stations: chain
      .slice(0, -1)
      .map((at) => wrap(at, length))
      .sort((a, b) => a - b),
    unguarded: [],
    greatestGap: greatestStep(chain),
  };
}

/** Halves towards the smallest gap that still does with as few stations, from a chain that is known to. */
function leastGap(
  known: readonly number[],
  spacing: number,
  floor: number,
  tryGap: (gap: number) => readonly number[] | undefined,
): readonly number[] {
  let best = known;
  let low = floor;
  let high = Math.min(spacing, greatestStep(known));
  const atFloor = tryGap(floor);
  if (atFloor !== undefined) return atFloor;
  while (high - low > SAME_PLACE) {
    const middle = (low + high) / 2;
    const found = tryGap(middle);
    if (found === undefined) low = middle;
    else {
      best = found;
      high = Math.min(middle, greatestStep(found));
    }
  }
  return best;
}

function greatestStep(chain: readonly number[]): number {
  let greatest = 0;
  for (let index = 1; index < chain.length; index += 1)
    greatest = Math.max(greatest, (chain[index] ?? 0) - (chain[index - 1] ?? 0));
  return greatest;
}

function wrap(at: number, length: number): number {
  const turned = at % length;
  return turned < 0 ? turned + length : turned;
}
