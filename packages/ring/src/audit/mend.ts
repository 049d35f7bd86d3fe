import { isTooWide, listRuns, planRun, type Run } from '../placement/fewest.ts';
import { complement, dropNarrow, type Interval, intersect, unite } from '../placement/intervals.ts';

const SAME_METRES = 1e-6;
/** A ring is measured with a tape: less than this is not worth a change, metres. */
export const AUDIT_SLACK_METRES = 0.05;

/**
 * Indices of the fewest stations that guard, on a closed line, all that `places` guard. The stations themselves are
 * the only ground: the same exact search as for a proposal, on points in place of stretches.
 */
export function fewestKept(places: readonly number[], turn: number, spacing: number): readonly number[] {
  const ground = unite(
    places.map((at) => ({ from: at, to: at })),
    0,
  );
  const at = listRuns(ground, turn, spacing).flatMap((run) => planRun(run, spacing).at);
  const nearest = at.map((place) =>
    places.reduce(
      (best, other, index) =>
        apart(other, place, turn) < apart(places[best] ?? Infinity, place, turn) ? index : best,
      0,
    ),
  );
  return [...new Set(nearest)];
}

/**
 * The fewest places to add to the stations that stand on a closed line so that all that can be guarded is. Between
 * two neighbours the new places depend on no others, and the neighbours are held like the ends of a chain. What a
 * place would add within the slack of a neighbour is left.
 */
export function fewestAdditions(
  standing: readonly number[],
  free: readonly Interval[],
  turn: number,
  spacing: number,
): readonly number[] {
  const sorted = standing.toSorted((a, b) => a - b);
  const first = sorted[0];
  if (first === undefined) {
    return listRuns(free, turn, spacing).flatMap((run) => planRun(run, spacing).at.map((at) => at % turn));
  }
  const turns = [free, free.map(({ from, to }) => ({ from: from + turn, to: to + turn }))].flat();
  return [...sorted, first + turn].flatMap((to, index, all) => {
    const from = all[index - 1];
    if (from === undefined || to - from <= spacing + AUDIT_SLACK_METRES) return [];
    const between = turns
      .map((arc) => ({ from: Math.max(arc.from, from), to: Math.min(arc.to, to) }))
      .filter((arc) => arc.to > arc.from);
    const ground = unite([{ from, to: from }, ...between, { from: to, to }], SAME_METRES);
    return chainsOf(ground, turn, spacing)
      .flatMap((run) => planRun(run, spacing).at)
      .filter((at) => at > from + AUDIT_SLACK_METRES && at < to - AUDIT_SLACK_METRES)
      .map((at) => at % turn);
  });
}

/**
 * What is open on a line without that which could be guarded and is too short for a change: a sliver of open line would
 * else leave a whole inner corner behind it unguarded. Both sorted and disjoint.
 */
export function forgiveSlack(
  open: readonly Interval[],
  unguardable: readonly Interval[],
  turn: number,
): readonly Interval[] {
  const guardable = dropNarrow(intersect(open, complement(unguardable, turn)), turn, AUDIT_SLACK_METRES);
  return unite([...intersect(open, unguardable), ...guardable]);
}

function chainsOf(ground: readonly Interval[], turnMetres: number, spacing: number): readonly Run[] {
  const chains: Interval[][] = [];
  let end = Number.NEGATIVE_INFINITY;
  for (const arc of ground) {
    if (isTooWide(arc.from - end, spacing)) chains.push([arc]);
    else chains[chains.length - 1]?.push(arc);
    end = arc.to;
  }
  return chains.map((arcs) => ({ kind: 'chain', arcs, turnMetres }));
}

function apart(a: number, b: number, turn: number): number {
  const forward = (((a - b) % turn) + turn) % turn;
  return Math.min(forward, turn - forward);
}
