import { createHmac } from 'node:crypto';

/** RFC 6238 by hand, so that the library is not its own judge. */
export function totp(uri: string): string {
  const secret = new URL(uri).searchParams.get('secret') ?? '';
  return codeAt(fromBase32(secret), Math.floor(Date.now() / 30_000), 6);
}

export function codeAt(key: Uint8Array, step: number, digits: number): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(step));
  const mac = createHmac('sha1', key).update(counter).digest();
  const at = (mac.at(-1) ?? 0) & 0xf;
  return String((mac.readUInt32BE(at) & 0x7fffffff) % 10 ** digits).padStart(digits, '0');
}

function fromBase32(text: string): Uint8Array {
  const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
  const bits = [...text.replaceAll('=', '')]
    .map((sign) => alphabet.indexOf(sign).toString(2).padStart(5, '0'))
    .join('');
  return Uint8Array.from(bits.match(/.{8}/g) ?? [], (byte) => Number.parseInt(byte, 2));
}
