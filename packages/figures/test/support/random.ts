export interface Random {
  /** 0 included, 1 excluded */
  fraction(): number;
  normal(): number;
  happens(chance: number): boolean;
}

/** Seeded: a 32-bit mixing generator (mulberry32, public domain), good enough for simulations in tests. */
export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const fraction = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  return {
    fraction,
    normal: () => Math.sqrt(-2 * Math.log(1 - fraction())) * Math.cos(2 * Math.PI * fraction()),
    happens: (chance) => fraction() < chance,
  };
}
