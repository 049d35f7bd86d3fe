import { createHmac } from 'node:crypto';

const STEP_MS = 30_000;
const DIGITS = 6;

/** The code that an authenticator app shows now for an `otpauth:` address: RFC 6238 by hand, with SHA-1 and steps of 30 s. */
export function codeOf(uri: string): string {
  const letters = new URL(uri).searchParams.get('secret') ?? '';
  const step = Buffer.alloc(8);
  step.writeBigUInt64BE(BigInt(Math.floor(Date.now() / STEP_MS)));
  const mac = createHmac('sha1', readBase32(letters)).update(step).digest();
  const offset = mac.readUInt8(mac.length - 1) & 0xf;
  const number = mac.readUInt32BE(offset) & 0x7fffffff;
  return String(number % 10 ** DIGITS).padStart(DIGITS, '0');
}

/** RFC 4648, section 6, without padding. */
function readBase32(letters: string): Buffer {
  const bytes: number[] = [];
  let held = 0;
  let bits = 0;
  for (const letter of letters) {
    held = (held << 5) | 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'.indexOf(letter);
    bits += 5;
    if (bits < 8) continue;
    bits -= 8;
    bytes.push((held >> bits) & 0xff);
    held &= (1 << bits) - 1;
  }
  return Buffer.from(bytes);
}
