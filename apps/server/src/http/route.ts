import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { Role } from '../accounts/roles.ts';
import { readBody } from './body.ts';
import type { Env, Person, Services } from './context.ts';
import { PROBLEM_CODES, PROBLEMS, Problem, type ProblemCode } from './problems.ts';

export type App = OpenAPIHono<Env>;

/**
 * One route, declared whole: what it takes, what it gives, and who may use it. The role table is the sum of these
 * declarations; it is published in the API document as `x-roles`, and the access test reads it from there.
 */
export interface RouteSpec<
  P extends z.ZodType,
  Q extends z.ZodType,
  B extends z.ZodType,
  R extends z.ZodType,
> {
  readonly method: 'get' | 'post' | 'put' | 'patch' | 'delete';
  /** OpenAPI form: `/api/people/{id}` */
  readonly path: string;
  readonly tag: 'accounts' | 'people' | 'work' | 'records' | 'reports' | 'server';
  readonly summary: string;
  readonly roles: readonly Role[] | 'anyone';
  readonly params?: P;
  readonly query?: Q;
  /** JSON body */
  readonly body?: B;
  /** A body that is not JSON: handed over as bytes. */
  readonly file?: { readonly mediaTypes: readonly string[] };
  /** default 64 KiB */
  readonly maxBodyBytes?: number;
  /** JSON answer; absent = 204, or one of `media` */
  readonly result?: R;
  readonly media?: readonly string[];
  readonly status?: 200 | 201 | 204;
  /** Open to a person who still has to replace a one-time password. */
  readonly beforeOwnPassword?: boolean;
}

export interface RouteInput<P, Q, B> {
  readonly params: P;
  readonly query: Q;
  readonly body: B;
  readonly file: Uint8Array;
  /** Throws for an anonymous caller; only routes open to `anyone` may meet one. */
  readonly person: Person;
  readonly context: Context<Env>;
}

const nothing = z.object({});
type Nothing = typeof nothing;
const KIB = 1024;

/** Adds the route with its guard: sign-in, role, password, then body, then the schemas, then the handler. */
export function addRoute<
  P extends z.ZodType = Nothing,
  Q extends z.ZodType = Nothing,
  B extends z.ZodType = Nothing,
  R extends z.ZodType = Nothing,
>(
  app: App,
  services: Services,
  spec: RouteSpec<P, Q, B, R>,
  handler: (input: RouteInput<z.output<P>, z.output<Q>, z.output<B>>) => Promise<z.input<R> | Response>,
): void {
  describe(app, spec);
  app.on(spec.method.toUpperCase(), spec.path.replaceAll(/\{(\w+)\}/g, ':$1'), async (context) => {
    const person = context.get('person');
    checkMayUse(spec, person);
    const limit = spec.maxBodyBytes ?? 64 * KIB;
    const hasBody = spec.body !== undefined || spec.file !== undefined;
    const bytes = hasBody ? await readBody(context.req.raw, limit) : new Uint8Array();
    const input = {
      params: parse(spec.params, context.req.param(), 'path'),
      query: parse(spec.query, context.req.query(), 'query'),
      body: parse(
        spec.body,
        spec.body === undefined ? {} : parseJson(bytes, context.req.header('content-type')),
        'body',
      ),
      file: bytes,
      get person(): Person {
        if (person === undefined)
          throw new Problem('not signed in', 'This address needs a signed-in person.');
        return person;
      },
      context,
    };
    const answer = await handler(input);
    if (answer instanceof Response) return answer;
    if (spec.result === undefined) return context.body(null, 204);
    if (services.checkAnswers) spec.result.parse(answer);
    return context.json(answer, spec.status === 201 ? 201 : 200, { 'cache-control': 'no-store' });
  });
}

/** The role table at work. */
function checkMayUse(
  spec: { readonly roles: readonly Role[] | 'anyone'; readonly beforeOwnPassword?: boolean },
  person: Person | undefined,
): void {
  if (spec.roles === 'anyone') return;
  if (person === undefined) throw new Problem('not signed in', 'This address needs a signed-in person.');
  if (!spec.roles.includes(person.role)) {
    throw new Problem(
      'not allowed',
      `This needs one of the roles ${spec.roles.join(', ')}; yours is ${person.role}.`,
    );
  }
  if (person.mustChangePassword && spec.beforeOwnPassword !== true) {
    throw new Problem('password must be changed', 'You signed in with a one-time password.');
  }
}

function parse<S extends z.ZodType>(schema: S | undefined, value: unknown, where: string): z.output<S> {
  const result = (schema ?? nothing).safeParse(value);
  if (result.success) return result.data as z.output<S>;
  throw new Problem('malformed', `The ${where} does not fit.`, {
    errors: result.error.issues.map((issue) => ({
      at: [where, ...issue.path.map(String)].join('.'),
      message: issue.message,
    })),
  });
}

function parseJson(bytes: Uint8Array, mediaType: string | undefined): unknown {
  if (mediaType === undefined || !/^application\/(.+\+)?json\b/i.test(mediaType)) {
    throw new Problem(
      'wrong media type',
      `This address takes application/json, not ${mediaType ?? 'a body without a type'}.`,
    );
  }
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    throw new Problem('malformed', 'The body is not JSON in UTF-8.');
  }
}

const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.number().int(),
    detail: z.string(),
    remedy: z.string(),
    /** of the messages in `errors`, where the caller chose one */
    lang: z.string().optional(),
    code: z.string().openapi({ enum: [...PROBLEM_CODES] }),
    instance: z.string(),
    errors: z.array(z.object({ at: z.string(), message: z.string() })).optional(),
  })
  .openapi('Problem');

function problemsOf(spec: {
  readonly roles: readonly Role[] | 'anyone';
  readonly path: string;
}): readonly number[] {
  const codes: ProblemCode[] = ['malformed', 'too large', 'too many requests', 'internal'];
  if (spec.roles !== 'anyone') codes.push('not signed in', 'not allowed');
  if (spec.path.includes('{')) codes.push('not found');
  return [...new Set(codes.map((code) => PROBLEMS[code].status))].sort((a, b) => a - b);
}

/** Writes the declaration into the API document. */
function describe<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType, R extends z.ZodType>(
  app: App,
  spec: RouteSpec<P, Q, B, R>,
): void {
  const good = spec.status ?? (spec.result === undefined && spec.media === undefined ? 204 : 200);
  const binary = { schema: { type: 'string', format: 'binary' } } as const;
  const content = {
    ...(spec.result === undefined ? {} : { 'application/json': { schema: spec.result } }),
    ...Object.fromEntries((spec.media ?? []).map((type) => [type, binary])),
  };
  app.openAPIRegistry.registerPath(
    createRoute({
      method: spec.method,
      path: spec.path,
      tags: [spec.tag],
      summary: spec.summary,
      operationId: operationId(spec.method, spec.path),
      'x-roles': spec.roles === 'anyone' ? ['anyone'] : [...spec.roles],
      security: spec.roles === 'anyone' ? [] : [{ cookie: [] }, { bearer: [] }],
      request: {
        ...(spec.params === undefined ? {} : { params: asObject(spec.params) }),
        ...(spec.query === undefined ? {} : { query: asObject(spec.query) }),
        ...(spec.body === undefined
          ? {}
          : { body: { required: true, content: { 'application/json': { schema: spec.body } } } }),
        ...(spec.file === undefined
          ? {}
          : {
              body: {
                required: true,
                content: Object.fromEntries(spec.file.mediaTypes.map((type) => [type, binary])),
              },
            }),
      },
      responses: {
        [good]: { description: 'done', ...(Object.keys(content).length > 0 ? { content } : {}) },
        ...Object.fromEntries(
          problemsOf(spec).map((status) => [
            status,
            { description: 'refused', content: { 'application/problem+json': { schema: problemSchema } } },
          ]),
        ),
      },
    }),
  );
}

function asObject(schema: z.ZodType): z.ZodObject {
  if (schema instanceof z.ZodObject) return schema;
  throw new TypeError('path and query parameters are declared as an object schema');
}

function operationId(method: string, path: string): string {
  const words = path.split(/[^A-Za-z]+/).filter((word) => word !== '' && word !== 'api');
  return method + words.map((word) => word.charAt(0).toUpperCase() + word.slice(1)).join('');
}
