import { findMoment, type LinkBody, type PropertyState } from '@sillwatch/trade';
import type { Services } from '../http/context.ts';
import { findPlace, hashSecret, isSameHash } from './secret.ts';

/** A link whose secret was right, and what it opens: one property, or one person's rounds. */
export type OpenLink = {
  readonly firm: string;
  readonly firmName: string;
  readonly link: LinkBody;
} & (
  | { readonly kind: 'property'; readonly property: PropertyState }
  | { readonly kind: 'rounds'; readonly person: { readonly id: string; readonly name: string } }
);

/**
 * The link behind an address; undefined alike for one that never was, has run out, was withdrawn, or whose person has left.
 * Read from the ledger for each request, so that a withdrawal acts at once and outlives a restart.
 */
export async function findLink(
  { ledger, accounts }: Pick<Services, 'ledger' | 'accounts'>,
  place: string,
  secret: string,
  nowMs: number,
): Promise<OpenLink | undefined> {
  const at = findPlace(place);
  if (at === undefined) return undefined;
  const property = at.property === null ? undefined : await ledger.findProperty(at.firm, at.property);
  const links = at.property === null ? (await ledger.getFirm(at.firm)).links : (property?.links ?? []);
  const hash = hashSecret(secret);
  // All are compared, so that time does not tell which one was met.
  const [link] = links.filter(({ secretHash }) => isSameHash(secretHash, hash));
  if (link === undefined || hasExpired(link, nowMs)) return undefined;
  const firmName = await accounts.findFirmName(at.firm);
  const head = { firm: at.firm, firmName: firmName ?? '', link };
  if (link.purpose === 'round calendar') {
    if (at.property !== null || link.person === null) return undefined;
    const person = await accounts.findPerson(link.person);
    if (person === undefined || person.firm !== at.firm) return undefined;
    return { ...head, kind: 'rounds', person: { id: person.id, name: person.name } };
  }
  return property === undefined ? undefined : { ...head, kind: 'property', property };
}

/** From the very instant on. A time that cannot be read opens nothing. */
export function hasExpired({ expiresAt }: Pick<LinkBody, 'expiresAt'>, nowMs: number): boolean {
  if (expiresAt === null) return false;
  const moment = findMoment(expiresAt);
  return moment === undefined || nowMs >= moment.epochMs;
}
