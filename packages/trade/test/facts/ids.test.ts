import fc from 'fast-check';
import { validate, version } from 'uuid';
import { describe, expect, it } from 'vitest';
import { clockToText, findClock, isUuid, receiveClock, tickClock, uuidV7 } from '../../src/index.ts';

describe('UUIDv7', () => {
  it('matches the test vector of RFC 9562, appendix A.6', () => {
    // unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0b01, 0x8C4DC0C0C07398F
    const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
    expect(uuidV7(0x01_7f_22_e2_79_b0, random).toUpperCase()).toBe('017F22E2-79B0-7CC3-98C4-DC0C0C07398F');
  });

  it('is read as version 7 by an independent library (uuid, npm), and sorts by time', () => {
    const bytes = fc.uint8Array({ minLength: 10, maxLength: 10 });
    fc.assert(
      fc.property(fc.nat(2 ** 47), bytes, fc.nat(2 ** 47), bytes, (aMs, aRandom, bMs, bRandom) => {
        const a = uuidV7(aMs, aRandom);
        const b = uuidV7(bMs, bRandom);
        expect(validate(a) && version(a) === 7 && isUuid(a)).toBe(true);
        if (aMs < bMs) expect(a < b).toBe(true);
      }),
    );
  });

  it('refuses a wrong number of random bytes and a time that does not fit', () => {
    expect(() => uuidV7(0, new Uint8Array(9))).toThrow(/10 random bytes/);
    expect(() => uuidV7(2 ** 48, new Uint8Array(10))).toThrow(/48 bits/);
  });
});

describe('the hybrid logical clock (Kulkarni et al. 2014: time goes on, never back, and close to the wall clock)', () => {
  it('goes up with every tick, even when the wall clock goes back', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(10_000), { minLength: 2, maxLength: 50 }), (walls) => {
        let last: string | undefined;
        for (const wall of walls) {
          const next = tickClock(last, wall);
          if (last !== undefined) expect(next > last).toBe(true);
          last = next;
        }
        expect(findClock(last ?? '')?.ms).toBe(Math.max(...walls));
      }),
    );
  });

  it('sorts after what it has seen', () => {
    fc.assert(
      fc.property(fc.nat(1000), fc.nat(1000), fc.nat(1000), (own, seen, wall) => {
        const last = tickClock(undefined, own);
        const other = tickClock(undefined, seen);
        const next = receiveClock(last, other, wall);
        expect(next > last && next > other).toBe(true);
      }),
    );
  });

  it('carries over to the next millisecond when the count is full', () => {
    expect(tickClock(clockToText({ ms: 5, count: 99_999 }), 5)).toBe(clockToText({ ms: 6, count: 0 }));
  });
});
