import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** 32 random bytes: nobody guesses one in the lifetime of the sun, so a plain SHA-256 of it needs no salt and no slowness. */
export function makeSecret(): string {
  return randomBytes(32).toString('base64url');
}

/** What the ledger keeps of a secret, 64 hex digits. */
export function hashSecret(secret: string): string {
  return createHash('sha256').update(secret, 'utf8').digest('hex');
}

/** Compares two hashes without telling by its duration how much was right. */
export function isSameHash(a: string, b: string): boolean {
  const [left, right] = [Buffer.from(a, 'hex'), Buffer.from(b, 'hex')];
  return left.length === 32 && right.length === 32 && timingSafeEqual(left, right);
}

/** Which firm's and which property's links to compare with; opens nothing by itself. `property` null = the firm's own. */
export interface LinkPlace {
  readonly firm: string;
  readonly property: string | null;
}

export function placeToText({ firm, property }: LinkPlace): string {
  return Buffer.from(JSON.stringify([firm, property]), 'utf8').toString('base64url');
}

const LONGEST_PLACE = 1000;

/** Undefined for anything that `placeToText` did not write. */
export function findPlace(text: string): LinkPlace | undefined {
  if (text.length > LONGEST_PLACE || !/^[\w-]+$/.test(text)) return undefined;
  try {
    const value: unknown = JSON.parse(Buffer.from(text, 'base64url').toString('utf8'));
    if (!Array.isArray(value) || value.length !== 2) return undefined;
    const [firm, property]: readonly unknown[] = value;
    if (typeof firm !== 'string' || (property !== null && typeof property !== 'string')) return undefined;
    const place = { firm, property };
    return placeToText(place) === text ? place : undefined;
  } catch {
    return undefined;
  }
}

/** A path without what opens it: for the log. */
export function withoutSecret(path: string): string {
  return path.startsWith('/link/') ? '/link/(secret)' : path;
}
