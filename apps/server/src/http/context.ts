import type { HttpBindings } from '@hono/node-server';
import type { StoredLedger } from '@sillwatch/ledger';
import type { Logger } from 'pino';
import type { Accounts } from '../accounts/accounts.ts';
import type { Role } from '../accounts/roles.ts';
import type { PhotoStore } from '../photos/photoStore.ts';
import type { Press } from '../press/press.ts';
import type { Books } from '../work/book.ts';

/** The signed-in person, read anew from the store for every request, so that a change of role or a removal acts at once. */
export interface Person {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly firm: string;
  readonly firmName: string;
  readonly role: Role;
  /** home branch; null = the whole firm */
  readonly branch: string | null;
  readonly licenceNumber: string | null;
  readonly certificationNumber: string | null;
  readonly twoFactor: boolean;
  readonly mustChangePassword: boolean;
}

/** Time, ids and the log come in as arguments, so that tests can hold them still. */
export interface ServerDeps {
  /** milliseconds since 1970-01-01 UTC */
  readonly now: () => number;
  readonly newId: () => string;
  readonly log: Logger;
}

export interface Limits {
  /** per person (or per address while not signed in) and minute */
  readonly requestsPerMinute: number;
  /** tries to sign in per address and minute, and per e-mail address and five minutes */
  readonly signIns: number;
}
export const DEFAULT_LIMITS: Limits = { requestsPerMinute: 1200, signIns: 10 };

/** Everything a route may lean on. */
export interface Services {
  readonly ledger: StoredLedger;
  readonly books: Books;
  readonly photos: PhotoStore;
  readonly press: Press;
  readonly accounts: Accounts;
  readonly deps: ServerDeps;
  readonly limits: Limits;
  /** null = no token asked for (loopback) */
  readonly setupToken: string | null;
  readonly demo: boolean;
  /** Parse every answer with its own schema before it leaves: on in tests. */
  readonly checkAnswers: boolean;
}

export interface Env {
  Bindings: Partial<HttpBindings>;
  Variables: { requestId: string; peer: string; person: Person | undefined };
}
