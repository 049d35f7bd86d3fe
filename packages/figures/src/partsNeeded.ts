/**
 * Distribution of how many of some part a round uses, when each station uses 0, 1, 2, … of it with its own chances:
 * an exact sum of independent counts (Poisson-binomial where each uses at most one).
 * Chances of counts, from 0 up; they add to 1.
 */
export type Counts = Float64Array;

/** Below this a chance is dropped from the upper end: it stays far under any risk that a person would choose. */
const NEGLIGIBLE = 1e-18;

/**
 * Exact distribution of the sum of independent yes-or-no needs, by halving and multiplying (divide and conquer).
 * Throws a RangeError for a chance outside 0 to 1.
 */
export function poissonBinomial(chances: readonly number[] | Float64Array): Counts {
  for (const chance of chances)
    if (!(chance >= 0 && chance <= 1))
      throw new RangeError(`a chance lies between 0 and 1, not at ${chance}`);
  return sumRange(chances.length, (index) => {
    const chance = chances[index] ?? 0;
    return Float64Array.of(1 - chance, chance);
  });
}

/** As poissonBinomial, where each need has a distribution of its own. Throws a RangeError unless each adds to 1. */
export function sumOfCounts(needs: readonly Counts[]): Counts {
  for (const need of needs) {
    const total = need.reduce((sum, chance) => sum + chance, 0);
    if (Math.abs(total - 1) > 1e-9 || need.some((chance) => !(chance >= 0)))
      throw new RangeError(`chances of one need add to 1, not to ${total}`);
  }
  return sumRange(needs.length, (index) => needs[index] ?? Float64Array.of(1));
}

function sumRange(count: number, need: (index: number) => Counts): Counts {
  const sum = (from: number, to: number): Counts => {
    if (to === from) return Float64Array.of(1);
    if (to - from === 1) return need(from);
    const middle = (from + to) >> 1;
    return multiply(sum(from, middle), sum(middle, to));
  };
  return sum(0, count);
}

/** Distribution of the sum of two independent counts, its negligible upper end cut off and folded into the last chance kept. */
function multiply(a: Counts, b: Counts): Counts {
  const product = new Float64Array(a.length + b.length - 1);
  for (let i = 0; i < a.length; i += 1) {
    const left = a[i] ?? 0;
    if (left === 0) continue;
    for (let j = 0; j < b.length; j += 1) product[i + j] = (product[i + j] ?? 0) + left * (b[j] ?? 0);
  }
  let end = product.length;
  let dropped = 0;
  while (end > 1 && dropped + (product[end - 1] ?? 0) < NEGLIGIBLE) {
    dropped += product[end - 1] ?? 0;
    end -= 1;
  }
  const kept = product.slice(0, end);
  kept[end - 1] = (kept[end - 1] ?? 0) + dropped;
  return kept;
}

/** Distribution of a count of which nobody knows which of several holds: each with its weight (they add to 1). */
export function mixCounts(parts: readonly { readonly weight: number; readonly counts: Counts }[]): Counts {
  const mixed = new Float64Array(Math.max(1, ...parts.map(({ counts }) => counts.length)));
  for (const { weight, counts } of parts)
    for (let count = 0; count < counts.length; count += 1)
      mixed[count] = (mixed[count] ?? 0) + weight * (counts[count] ?? 0);
  return mixed;
}

/** The least number to take so that the chance of needing more is at most `risk` (0 to 1, exclusive). */
export function leastWithin(risk: number, counts: Counts): number {
  if (!(risk > 0 && risk < 1)) throw new RangeError(`a risk lies between 0 and 1, not at ${risk}`);
  // Summed from the top, where the chances are smallest, so that nothing is lost to rounding.
  let above = 0;
  for (let count = counts.length - 1; count > 0; count -= 1) {
    above += counts[count] ?? 0;
    if (above > risk) return count;
  }
  return 0;
}
