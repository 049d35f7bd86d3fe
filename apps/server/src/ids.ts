import { randomFillSync } from 'node:crypto';

/**
 * UUIDv7 (RFC 9562, section 5.7): 48 bits of milliseconds, then randomness; ids of one process made in the same
 * millisecond stay in order by a counter in `rand_a` (section 6.2, method 1).
 */
export function createIdMaker(now: () => number): () => string {
  let last = 0;
  let count = 0;
  const bytes = new Uint8Array(16);
  return () => {
    const milliseconds = Math.max(now(), last);
    count = milliseconds === last ? count + 1 : 0;
    last = milliseconds;
    if (count > 0xfff) {
      last += 1;
      count = 0;
    }
    randomFillSync(bytes);
    let time = last;
    for (let index = 5; index >= 0; index -= 1) {
      bytes[index] = time % 256;
      time = Math.floor(time / 256);
    }
    bytes[6] = 0x70 | (count >> 8);
    bytes[7] = count & 0xff;
    bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
    const hex = Buffer.from(bytes).toString('hex');
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
  };
}
