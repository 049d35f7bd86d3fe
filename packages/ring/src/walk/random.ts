/** A stream of whole numbers from 0 up to but not `below`, the same for the same seed on every machine (xorshift32, Marsaglia 2003). */
export function createRandom(seed: number): (below: number) => number {
  let state = Math.imul(seed ^ 0x9e37_79b9, 0x85eb_ca6b) | 0;
  if (state === 0) state = 0x1234_5678;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return Math.floor(((state >>> 0) / 0x1_0000_0000) * below);
  };
}
