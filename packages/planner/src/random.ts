/** A seeded stream of random numbers; the same seed gives the same stream on every machine. */
export interface Random {
  /** A whole number from 0 to `count` - 1; `count` is 1 to 2^31. */
  below(count: number): number;
  /** A number from 0 (inclusive) to 1 (exclusive). */
  unit(): number;
}

/**
 * xoshiro128** 1.1 (Blackman and Vigna, "Scrambled linear pseudorandom number generators", ACM TOMS 47(4), 2021),
 * its four words filled by a 32-bit split-mix with the finaliser of MurmurHash3 (Appleby, public domain).
 */
export function createRandom(seed: number): Random {
  let mix = seed | 0;
  let a = word();
  let b = word();
  let c = word();
  let d = word();

  function word(): number {
    mix = (mix + 0x9e3779b9) | 0;
    let z = mix ^ (mix >>> 16);
    z = Math.imul(z, 0x85ebca6b);
    z ^= z >>> 13;
    z = Math.imul(z, 0xc2b2ae35);
    return z ^ (z >>> 16);
  }

  function next(): number {
    const fives = Math.imul(b, 5);
    const result = Math.imul((fives << 7) | (fives >>> 25), 9);
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return result >>> 0;
  }

  return {
    below: (count) => Math.floor(next() * (count / 4_294_967_296)),
    unit: () => next() / 4_294_967_296,
  };
}
