/** Small seeded generator (mulberry32, from memory): the same seed gives the same facts on every machine. */
export interface Random {
  /** from 0 to below `limit`, whole */
  readonly below: (limit: number) => number;
  readonly pick: <T>(list: readonly [T, ...T[]]) => T;
}

export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (limit: number): number => Math.floor(next() * limit);
  return { below, pick: (list) => list[below(list.length)] ?? list[0] };
}
