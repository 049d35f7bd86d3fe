import { toHex } from './photos.ts';
import type { UnlockAnswer } from './port.ts';
import { type LockRow, ONE, type Shelf } from './shelf.ts';

/** OWASP Password Storage Cheat Sheet (2023): PBKDF2 with HMAC-SHA-256, 600,000 rounds. From memory. */
const ROUNDS = 600_000;
/** Seconds to wait after the nth wrong PIN in a row, the last for every further one. */
const WAITS = [0, 0, 0, 0, 30, 60, 300, 900] as const;

export interface LockDeps {
  readonly now: () => number;
  readonly randomBytes: (count: number) => Uint8Array<ArrayBuffer>;
  readonly rounds?: number;
}

export async function readLock(shelf: Shelf): Promise<LockRow | undefined> {
  return shelf.transact(['lock'], 'read', (tx) => tx.get('lock', ONE));
}

export function isPin(text: string): boolean {
  return /^\d{4,12}$/.test(text);
}

/** Null takes the lock off. Throws a RangeError for what is no PIN. */
export async function writePin(shelf: Shelf, pin: string | null, deps: LockDeps): Promise<void> {
  if (pin !== null && !isPin(pin)) throw new RangeError('a PIN has 4 to 12 digits');
  const salt = deps.randomBytes(16);
  const iterations = deps.rounds ?? ROUNDS;
  const hash = pin === null ? '' : await hashPin(pin, salt, iterations);
  await shelf.transact(['lock'], 'write', async (tx) => {
    if (pin === null) await tx.delete('lock', ONE);
    else await tx.put('lock', ONE, { salt: toHex(salt), hash, iterations, wrong: 0, waitUntil: 0 });
  });
}

/** Counts wrong tries on stable storage, so that a restart does not win new ones. */
export async function tryPin(shelf: Shelf, pin: string, deps: LockDeps): Promise<UnlockAnswer> {
  const row = await readLock(shelf);
  if (row === undefined) return { answer: 'open' };
  const now = deps.now();
  if (now < row.waitUntil) return { answer: 'wrong', waitSeconds: Math.ceil((row.waitUntil - now) / 1000) };
  const isRight = (await hashPin(pin, fromHex(row.salt), row.iterations)) === row.hash;
  const wrong = isRight ? 0 : row.wrong + 1;
  const waitSeconds = WAITS[Math.min(wrong, WAITS.length - 1)] ?? 0;
  await shelf.transact(['lock'], 'write', async (tx) => {
    await tx.put('lock', ONE, { ...row, wrong, waitUntil: isRight ? 0 : now + waitSeconds * 1000 });
  });
  return isRight ? { answer: 'open' } : { answer: 'wrong', waitSeconds };
}

async function hashPin(pin: string, salt: Uint8Array<ArrayBuffer>, iterations: number): Promise<string> {
  const key = await crypto.subtle.importKey('raw', new TextEncoder().encode(pin), 'PBKDF2', false, [
    'deriveBits',
  ]);
  const bits = await crypto.subtle.deriveBits(
    { name: 'PBKDF2', hash: 'SHA-256', salt, iterations },
    key,
    256,
  );
  return toHex(new Uint8Array(bits));
}

function fromHex(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(text.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
}
