/**
 * The one catalogue of problems at the edge (RFC 9457). A refusal names what went wrong and what to do about it;
 * the detail is filled in where it happens, title, status and remedy stand here.
 */
export const PROBLEMS = {
  'not signed in': {
    status: 401,
    title: 'You are not signed in',
    remedy: 'Sign in, then try again.',
  },
  'sign-in refused': {
    status: 401,
    title: 'E-mail or password is not right',
    remedy: 'Check both; ask the owner or a lead for a new one-time password.',
  },
  'code refused': {
    status: 401,
    title: 'The code is not right or no longer valid',
    remedy: 'Type the code that the authenticator app shows now, or use a backup code.',
  },
  'password must be changed': {
    status: 403,
    title: 'The one-time password must be replaced first',
    remedy: 'Choose your own password with POST /api/auth/change-password, then go on.',
  },
  'not allowed': {
    status: 403,
    title: 'Your role may not do this',
    remedy: 'Ask a person with a role that may, or ask the owner to change yours.',
  },
  'other origin': {
    status: 403,
    title: 'The request came from another site',
    remedy: 'Use the address of this server itself; set the public URL if it stands behind a proxy.',
  },
  'not found': {
    status: 404,
    title: 'There is no such thing here',
    remedy: 'Check the address and the identifier.',
  },
  'already set up': {
    status: 409,
    title: 'This server has an owner already',
    remedy: 'Sign in, or ask the owner to add you.',
  },
  'set-up token wrong': {
    status: 403,
    title: 'The set-up token is missing or wrong',
    remedy: 'Copy the token that the server wrote to its log when it started; it changes with every start.',
  },
  'e-mail in use': {
    status: 409,
    title: 'This e-mail address belongs to an account already',
    remedy: 'Use another address, or bring the existing person back.',
  },
  'last owner': {
    status: 409,
    title: 'A firm needs at least one owner',
    remedy: 'Make somebody else an owner first.',
  },
  'password too weak': {
    status: 422,
    title: 'The password is too short, too long or too common',
    remedy: 'Choose at least 12 and at most 128 characters; three or four unrelated words do well.',
  },
  malformed: {
    status: 400,
    title: 'The request cannot be read',
    remedy: 'Correct the places named in `errors`.',
  },
  'wrong media type': {
    status: 415,
    title: 'The body is of another kind than this address takes',
    remedy: 'Send the media type that the API document names.',
  },
  'too large': {
    status: 413,
    title: 'The body is too large',
    remedy: 'Send it in smaller parts.',
  },
  'too many requests': {
    status: 429,
    title: 'Too many requests',
    remedy: 'Wait for the time in the Retry-After header.',
  },
  'import refused': {
    status: 422,
    title: 'The file was not imported; nothing was changed',
    remedy:
      'Correct the places named in `errors` and send it again; a dry run shows them without changing anything.',
  },
  'import leaned on': {
    status: 409,
    title: 'Later entries lean on what the import brought',
    remedy:
      'Look at what `errors` names. Withdraw those entries first, or send `evenSo: true` to leave them without their place.',
  },
  'import holds applications': {
    status: 409,
    title: 'Pesticide was applied at what the import brought',
    remedy: 'Its record must keep the place that it names: correct single entries instead.',
  },
  'no room for photos': {
    status: 507,
    title: 'The firm has no room left for pictures',
    remedy:
      'Phones keep their pictures. Raise PHOTO_GB_PER_FIRM and start the server again; they go out by themselves.',
  },
  'photo refused': {
    status: 422,
    title: 'The picture was not taken',
    remedy: 'Send a JPEG, PNG or WebP picture under the sha256 of its own bytes.',
  },
  'no label profile': {
    status: 409,
    title: 'The property has no label profile',
    remedy: "Enter the numbers of the label in use as the firm's profile first.",
  },
  'too many links': {
    status: 409,
    title: 'There are too many secret addresses here',
    remedy: 'Withdraw those that nobody needs any more.',
  },
  'mail not set up': {
    status: 409,
    title: 'This server sends no e-mail yet',
    remedy:
      'Whoever runs the server sets MAIL_HOST and MAIL_FROM (docs/how-to/send-mail.md); a preview works without.',
  },
  'no address': {
    status: 409,
    title: 'There is no e-mail address to send to',
    remedy: 'Name one in the request, or record the e-mail address of the customer.',
  },
  'message has gone': {
    status: 409,
    title: 'The message is past that',
    remedy:
      'Ask for the list again; only a message that waits can be cancelled, and one that was sent is not sent twice.',
  },
  'paper cannot be written': {
    status: 409,
    title: 'What the paper needs is not recorded',
    remedy: 'Record what `detail` names first.',
  },
  'papers busy': {
    status: 503,
    title: 'Too many papers are being drawn',
    remedy: 'Wait for the time in the Retry-After header, then ask again.',
  },
  'plan running': {
    status: 409,
    title: 'The branch is being planned already',
    remedy: 'Wait for the plan that is being made, or stop it first.',
  },
  'plan not ready': {
    status: 409,
    title: 'The plan has no rounds yet',
    remedy: 'Wait until it is done; plan anew if it failed.',
  },
  'plan changed': {
    status: 409,
    title: 'Somebody else changed the plan meanwhile',
    remedy: 'Look at it again, then repeat what you did.',
  },
  'plan outdated': {
    status: 409,
    title: 'Other rounds were sent out since this plan was begun',
    remedy: 'Plan anew: the new plan starts from what was sent out and moves as little as it can.',
  },
  'move refused': {
    status: 422,
    title: 'The visit cannot be put there',
    remedy: 'Choose a technician who drives on that day, and a day within the plan.',
  },
  'too much for one answer': {
    status: 422,
    title: 'That is more than one answer can hold',
    remedy: 'Ask for one property or a shorter period; `sillwatch bundle` at the terminal writes any amount.',
  },
  'not ready': {
    status: 503,
    title: 'The server cannot take work at the moment',
    remedy: 'Try again in a few seconds.',
  },
  internal: {
    status: 500,
    title: 'The server failed',
    remedy: 'Try again; if it happens again, give the request id to whoever runs the server.',
  },
} as const;

export type ProblemCode = keyof typeof PROBLEMS;
export const PROBLEM_CODES: readonly string[] = Object.keys(PROBLEMS);

export interface ErrorPlace {
  /** Where in the request: `body.facts[3].by`, `query.asOf`; or a sheet, row and column. */
  readonly at: string;
  readonly message: string;
}

/** Thrown anywhere in a request; becomes `application/problem+json` at the edge. */
export class Problem extends Error {
  readonly code: ProblemCode;
  readonly detail: string;
  readonly errors: readonly ErrorPlace[];
  readonly retryAfterSeconds: number | undefined;
  readonly lang: string | undefined;

  constructor(
    code: ProblemCode,
    detail: string,
    more: {
      readonly errors?: readonly ErrorPlace[];
      readonly retryAfterSeconds?: number;
      /** of the messages in `errors`, where it is not that of the detail */
      readonly lang?: string;
    } = {},
  ) {
    super(detail);
    this.name = 'Problem';
    this.code = code;
    this.detail = detail;
    this.errors = more.errors ?? [];
    this.retryAfterSeconds = more.retryAfterSeconds;
    this.lang = more.lang;
  }
}

/** A tag URI (RFC 4151): names the kind of problem for good without promising a page behind it. */
export function problemType(code: ProblemCode): string {
  return `tag:sillwatch.invalid,2026:problem/${code.replaceAll(' ', '-')}`;
}

export function problemResponse(problem: Problem, requestId: string): Response {
  const entry = PROBLEMS[problem.code];
  const headers = new Headers({
    'content-type': 'application/problem+json; charset=utf-8',
    'cache-control': 'no-store',
    'x-request-id': requestId,
  });
  if (problem.retryAfterSeconds !== undefined) headers.set('retry-after', String(problem.retryAfterSeconds));
  return new Response(
    JSON.stringify({
      type: problemType(problem.code),
      title: entry.title,
      status: entry.status,
      detail: problem.detail,
      remedy: entry.remedy,
      code: problem.code,
      instance: requestId,
      ...(problem.errors.length > 0 ? { errors: problem.errors } : {}),
      ...(problem.lang === undefined ? {} : { lang: problem.lang }),
    }),
    { status: entry.status, headers },
  );
}
