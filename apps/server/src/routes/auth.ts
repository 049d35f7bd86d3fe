import { z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { askLibrary, type LibraryAnswer } from '../accounts/forward.ts';
import { checkPassword } from '../accounts/passwords.ts';
import { createFirstOwner, markPasswordChanged } from '../accounts/people.ts';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Env, Services } from '../http/context.ts';
import { createRateLimiter } from '../http/limits.ts';
import { peerOf } from '../http/peer.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { isSameSecret } from '../http/secret.ts';
import { email, personName, personSchema, showPerson } from './schemas.ts';

const password = z.string().min(1).max(200);
const signedIn = z.object({
  status: z.enum(['signed in', 'code needed']),
  /** bearer token, when it was asked for */
  token: z.string().nullable(),
});

type SignedIn = z.input<typeof signedIn>;

/** Set-up, sign-in, second factor, password: the account library behind addresses and words of our own. */
export function addAuthRoutes(app: App, services: Services): void {
  const { accounts, deps, limits } = services;
  const ask = (context: Context<Env>, path: string, body?: unknown): Promise<LibraryAnswer> =>
    askLibrary(accounts, context.req.raw, peerOf(context), { path, method: 'POST', body });
  const signInsPerEmail = createRateLimiter(limits.signIns, 5 * 60_000, deps.now);

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/setup',
      tag: 'accounts',
      summary: 'Is first-run set-up still to be done, and does it need the token from the log?',
      roles: 'anyone',
      result: z.object({ needed: z.boolean(), tokenNeeded: z.boolean() }),
    },
    async () => ({ needed: !(await accounts.hasAnyAccount()), tokenNeeded: services.setupToken !== null }),
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/setup',
      tag: 'accounts',
      summary: 'First-run set-up: creates the firm and its owner, once',
      roles: 'anyone',
      body: z.object({
        firmName: personName,
        name: personName,
        email,
        password,
        token: z.string().max(200).optional(),
      }),
      result: z.object({ firm: z.string(), person: z.string() }),
      status: 201,
    },
    async ({ body }) => {
      if (services.demo) throw new Problem('already set up', 'This is the demo; it has its invented owner.');
      if (await accounts.hasAnyAccount()) throw new Problem('already set up', 'An account exists already.');
      if (services.setupToken !== null && !isSameSecret(body.token ?? '', services.setupToken)) {
        throw new Problem(
          'set-up token wrong',
          'This server is open to the network, so set-up needs its token.',
        );
      }
      const created = await createFirstOwner(accounts, body);
      deps.log.info({ firm: created.firm, person: created.person }, 'first-run set-up done');
      return created;
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/auth/sign-in',
      tag: 'accounts',
      summary: 'Sign in with e-mail and password; a second factor is asked for where it is switched on',
      roles: 'anyone',
      body: z.object({
        email,
        password,
        remember: z.boolean().default(true),
        /** For programs: answer with a bearer token instead of relying on the cookie. */
        wantToken: z.boolean().default(false),
      }),
      result: signedIn,
    },
    async ({ body, context }): Promise<SignedIn> => {
      const wait = signInsPerEmail.take(body.email);
      if (wait !== undefined) {
        throw new Problem('too many requests', 'Too many tries for this account.', {
          retryAfterSeconds: wait,
        });
      }
      const answer = await ask(context, '/sign-in/email', {
        email: body.email,
        password: body.password,
        rememberMe: body.remember,
      });
      if (answer.status !== 200) {
        deps.log.warn({ requestId: context.get('requestId') }, 'sign-in refused');
        throw new Problem('sign-in refused', 'No account with this e-mail and password can sign in.');
      }
      passCookies(context, answer);
      if (answer.body['twoFactorRedirect'] === true) return { status: 'code needed', token: null };
      return { status: 'signed in', token: body.wantToken ? (answer.token ?? null) : null };
    },
  );

  for (const [path, summary, libraryPath] of [
    [
      '/api/auth/verify-totp',
      'Second step of sign-in, or end of enrolment: the code of the app',
      '/two-factor/verify-totp',
    ],
    [
      '/api/auth/verify-backup-code',
      'Second step of sign-in with a backup code',
      '/two-factor/verify-backup-code',
    ],
  ] as const) {
    addRoute(
      app,
      services,
      {
        method: 'post',
        path,
        tag: 'accounts',
        summary,
        roles: 'anyone',
        body: z.object({
          code: z.string().min(4).max(40),
          trustDevice: z.boolean().default(false),
          wantToken: z.boolean().default(false),
        }),
        result: signedIn,
      },
      async ({ body, context }): Promise<SignedIn> => {
        const answer = await ask(context, libraryPath, { code: body.code, trustDevice: body.trustDevice });
        if (answer.status !== 200) throw new Problem('code refused', 'The code was not accepted.');
        passCookies(context, answer);
        return { status: 'signed in', token: body.wantToken ? (answer.token ?? null) : null };
      },
    );
  }

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/auth/sign-out',
      tag: 'accounts',
      summary: 'End this session',
      roles: 'anyone',
    },
    async ({ context }) => {
      passCookies(context, await ask(context, '/sign-out'));
      return {};
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/auth/sign-out-elsewhere',
      tag: 'accounts',
      summary: 'End all other sessions of this person',
      roles: EVERY_ROLE,
    },
    async ({ context }) => {
      checkDone(await ask(context, '/revoke-other-sessions'), 'The other sessions could not be ended.');
      return {};
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/auth/change-password',
      tag: 'accounts',
      summary:
        'Replace the own password (a one-time password must be replaced first); ends all other sessions',
      roles: EVERY_ROLE,
      beforeOwnPassword: true,
      body: z.object({ currentPassword: password, newPassword: z.string().max(1000) }),
      result: signedIn,
    },
    async ({ body, person, context }): Promise<SignedIn> => {
      checkPassword(body.newPassword, person);
      if (body.newPassword === body.currentPassword) {
        throw new Problem('password too weak', 'The new password is the old one.');
      }
      const answer = await ask(context, '/change-password', { ...body, revokeOtherSessions: true });
      checkDone(answer, 'The current password is not right.');
      await markPasswordChanged(accounts, person.id);
      passCookies(context, answer);
      return {
        status: 'signed in',
        token: context.req.header('authorization') ? (answer.token ?? null) : null,
      };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/auth/totp',
      tag: 'accounts',
      summary: 'Begin to enrol an authenticator app; done once a code has been verified',
      roles: EVERY_ROLE,
      body: z.object({ password }),
      result: z.object({ totpUri: z.string(), backupCodes: z.array(z.string()) }),
      status: 201,
    },
    async ({ body, context }) => {
      const answer = await ask(context, '/two-factor/enable', { password: body.password, method: 'totp' });
      checkDone(answer, 'The password is not right, or an app is enrolled already.');
      return z
        .object({ totpURI: z.string(), backupCodes: z.array(z.string()) })
        .transform(({ totpURI, backupCodes }) => ({ totpUri: totpURI, backupCodes }))
        .parse(answer.body);
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/auth/totp-off',
      tag: 'accounts',
      summary: 'Switch the second factor off',
      roles: EVERY_ROLE,
      body: z.object({ password }),
    },
    async ({ body, context }) => {
      const answer = await ask(context, '/two-factor/disable', body);
      checkDone(answer, 'The password is not right.');
      passCookies(context, answer);
      return {};
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/me',
      tag: 'accounts',
      summary: 'The signed-in person and firm',
      roles: EVERY_ROLE,
      beforeOwnPassword: true,
      result: personSchema,
    },
    async ({ person }) => showPerson(person, services.demo),
  );
}

/** A refusal by the library of a signed-in person's own request: wrong password, wrong state. */
function checkDone(answer: LibraryAnswer, detail: string): void {
  if (answer.status === 401) throw new Problem('not signed in', 'The session has ended.');
  if (answer.status !== 200) throw new Problem('sign-in refused', detail);
}

function passCookies(context: Context<Env>, answer: LibraryAnswer): void {
  for (const cookie of answer.cookies) context.header('set-cookie', cookie, { append: true });
}
