import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Seeded chance: the same seed gives the same invented firm, byte for byte. */
export interface Chance {
  /** from and to included */
  int(from: number, to: number): number;
  /** 0 included, 1 excluded */
  fraction(): number;
  /** true with this probability, 0 to 1 */
  happens(probability: number): boolean;
  /** Throws on an empty list. */
  pick<T>(list: readonly T[]): T;
  bytes(count: number): Uint8Array;
}

export function createChance(seed: number): Chance {
  const source = xoroshiro128plus(seed);
  const int = (from: number, to: number): number => uniformInt(source, from, to);
  const fraction = (): number => uniformFloat64(source);
  return {
    int,
    fraction,
    happens: (probability) => fraction() < probability,
    pick: <T>(list: readonly T[]): T => {
      const picked = list[int(0, list.length - 1)];
      if (picked === undefined) throw new RangeError('nothing to pick from');
      return picked;
    },
    bytes: (count) => Uint8Array.from({ length: count }, () => int(0, 255)),
  };
}
