import { type BetterAuthOptions, betterAuth } from 'better-auth';
import { getMigrations } from 'better-auth/db/migration';
import { bearer, organization, twoFactor } from 'better-auth/plugins';
import { createAccessControl } from 'better-auth/plugins/access';
import { createRateLimiter, type RateLimiter } from '../http/limits.ts';
import type { AccountDatabase } from './database.ts';
import { ROLES } from './roles.ts';

/** The library never sees an outside address: requests are handed to it under this one (RFC 2606 name). */
export const LIBRARY_ORIGIN = 'http://accounts.invalid';
/** Set by us from the socket on every request handed over; a client's own is dropped. */
export const PEER_HEADER = 'x-sillwatch-peer';

export const MIN_PASSWORD = 12;
export const MAX_PASSWORD = 128;

export interface LibrarySettings {
  readonly database: AccountDatabase;
  readonly secret: string;
  readonly secureCookies: boolean;
  readonly signInsPerMinute: number;
  readonly now: () => number;
  /** False refuses the session before it exists. */
  readonly maySignIn: (userId: string) => Promise<boolean>;
}

/** The account library with what we use of it; who may do what stands in the role table of the routes, not here. */
export function createLibrary(settings: LibrarySettings) {
  const options = libraryOptions(settings);
  const auth = betterAuth(options);
  return {
    api: auth.api,
    handler: auth.handler,
    hashPassword: async (password: string) => (await auth.$context).password.hash(password),
    migrate: async () => {
      const { runMigrations } = await getMigrations(options);
      await runMigrations();
    },
  };
}
export type Library = ReturnType<typeof createLibrary>;

function libraryOptions(settings: LibrarySettings) {
  const { database, secret, secureCookies, signInsPerMinute, maySignIn, now } = settings;
  const access = createAccessControl({});
  const nothing = access.newRole({});
  return {
    appName: 'Sillwatch',
    baseURL: LIBRARY_ORIGIN,
    basePath: '/api/auth',
    secret,
    telemetry: { enabled: false },
    logger: { disabled: true },
    database: { db: database.db, type: database.kind, transaction: database.kind === 'postgres' },
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: MIN_PASSWORD,
      maxPasswordLength: MAX_PASSWORD,
    },
    user: {
      additionalFields: { mustChangePassword: { type: 'boolean', required: false, input: false } },
    },
    // 30 days, because a phone may be away for long; no cookie cache, because a removal must act at once.
    session: { expiresIn: 30 * 86_400, updateAge: 86_400, cookieCache: { enabled: false } },
    rateLimit: {
      enabled: true,
      window: 60,
      max: 600,
      // Several servers on one PostgreSQL count together; a server on its own file counts for itself.
      ...(database.kind === 'postgres' ? { storage: 'database' } : { customStorage: ownCounts(now) }),
      customRules: {
        '/sign-in/email': { window: 60, max: signInsPerMinute },
        '/two-factor/*': { window: 60, max: signInsPerMinute },
        '/change-password': { window: 60, max: signInsPerMinute },
      },
    },
    advanced: {
      cookiePrefix: 'sillwatch',
      useSecureCookies: secureCookies,
      defaultCookieAttributes: { sameSite: 'lax', httpOnly: true },
      ipAddress: { ipAddressHeaders: [PEER_HEADER] },
    },
    databaseHooks: {
      session: {
        create: { before: async (session) => ((await maySignIn(session.userId)) ? undefined : false) },
      },
    },
    plugins: [
      organization({
        ac: access,
        roles: Object.fromEntries(ROLES.map((role) => [role, nothing])),
        allowUserToCreateOrganization: false,
        disableOrganizationDeletion: true,
        schema: {
          member: {
            additionalFields: {
              branch: { type: 'string', required: false },
              licenceNumber: { type: 'string', required: false },
              certificationNumber: { type: 'string', required: false },
              removedAt: { type: 'date', required: false },
            },
          },
        },
      }),
      twoFactor({ issuer: 'Sillwatch' }),
      bearer({ requireSignature: true }),
    ],
  } satisfies BetterAuthOptions;
}

/** Not the library's own memory: that is one for the whole process, whatever servers run in it. */
function ownCounts(now: () => number) {
  const limiters = new Map<string, RateLimiter>();
  return {
    consume: async (key: string, { window, max }: { readonly window: number; readonly max: number }) => {
      const rule = `${max} in ${window}`;
      const limiter = limiters.get(rule) ?? createRateLimiter(max, window * 1000, now);
      limiters.set(rule, limiter);
      const retryAfter = limiter.take(key) ?? null;
      return { allowed: retryAfter === null, retryAfter };
    },
  };
}
