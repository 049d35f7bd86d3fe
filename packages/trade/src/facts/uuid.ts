/**
 * UUID version 7: 48 bits of milliseconds since 1970, then random bits. Source: RFC 9562, section 5.7.
 * `random` gives 10 bytes. Throws a RangeError when it does not, or when the time does not fit.
 */
export function uuidV7(epochMs: number, random: Uint8Array): string {
  if (random.length !== 10) throw new RangeError(`a UUIDv7 takes 10 random bytes, not ${random.length}`);
  if (!Number.isInteger(epochMs) || epochMs < 0 || epochMs > 0xff_ff_ff_ff_ff_ff) {
    throw new RangeError(`a UUIDv7 takes whole milliseconds since 1970 in 48 bits, not ${epochMs}`);
  }
  const time = epochMs.toString(16).padStart(12, '0');
  const rest = Array.from(random, (byte, index) => {
    if (index === 0) return (byte & 0x0f) | 0x70;
    return index === 2 ? (byte & 0x3f) | 0x80 : byte;
  })
    .map((byte) => byte.toString(16).padStart(2, '0'))
    .join('');
  return `${time.slice(0, 8)}-${time.slice(8)}-${rest.slice(0, 4)}-${rest.slice(4, 8)}-${rest.slice(8)}`;
}

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

/** Lower-case text form of any RFC 9562 version. */
export function isUuid(text: string): boolean {
  return UUID.test(text);
}
