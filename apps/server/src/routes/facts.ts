import { z } from '@hono/zod-openapi';
import type { Verdict } from '@sillwatch/ledger';
import { EVERY_ROLE, OFFICE, RECORDERS } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { screenFacts } from '../records/screen.ts';
import { factSchema } from './factSchema.ts';
import { list } from './schemas.ts';

/** Facts in one request, and the bytes they may take: a phone that was away for weeks sends several. */
export const MOST_FACTS = 2000;
const MOST_BYTES = 16 * 1024 * 1024;

const verdict = z
  .discriminatedUnion('verdict', [
    z.object({ id: z.string(), verdict: z.literal('accepted'), seq: z.number().int() }),
    z.object({ id: z.string(), verdict: z.literal('already known'), seq: z.number().int() }),
    z.object({
      id: z.string(),
      verdict: z.literal('refused'),
      code: z.enum([
        'malformed',
        'other firm',
        'id reused with other content',
        'legal field missing',
        'not allowed',
      ]),
      detail: z.string(),
    }),
  ])
  .openapi('Verdict');

export function addFactRoutes(app: App, services: Services): void {
  const { ledger, deps } = services;

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/facts',
      tag: 'records',
      summary: `Append up to ${MOST_FACTS} facts in one transaction; a verdict for each, in order, once they are on stable storage`,
      roles: RECORDERS,
      query: z.object({
        /** lead or owner only: the facts may carry the names of others */
        importing: z.enum(['true', 'false']).default('false'),
      }),
      body: z.object({
        facts: z
          .array(z.unknown())
          .max(MOST_FACTS)
          .openapi({ description: 'Facts as in the schema Fact, without receipts' }),
      }),
      maxBodyBytes: MOST_BYTES,
      result: z.object({ verdicts: list(verdict) }),
    },
    async ({ person, query, body }) => {
      const importing = query.importing === 'true';
      if (importing && !OFFICE.includes(person.role)) {
        throw new Problem('not allowed', 'Only a lead or an owner takes over the records of others.');
      }
      const screened = await screenFacts(ledger, person, body.facts, { importing });
      const passed = screened.flatMap(({ fact }) => (fact === undefined ? [] : [fact]));
      const receivedAt = new Date(deps.now()).toISOString();
      const stored = passed.length === 0 ? [] : await ledger.append(person.firm, passed, receivedAt);
      const rest = stored.values();
      const verdicts = screened.map(({ refusal }): Verdict => {
        if (refusal !== undefined) return refusal;
        const next = rest.next();
        if (next.done === true) throw new Error('the ledger gave fewer verdicts than facts');
        return next.value;
      });
      return { verdicts };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/facts',
      tag: 'records',
      summary: "The firm's facts in ledger order, for a device that catches up",
      roles: EVERY_ROLE,
      query: z.object({
        afterSeq: z.coerce.number().int().min(0).default(0),
        limit: z.coerce.number().int().min(1).max(10_000).default(2000),
        property: z.string().min(1).optional(),
      }),
      result: z.object({
        facts: list(factSchema),
        /** ask again with this as `afterSeq`; null = that was all */
        nextAfterSeq: z.number().int().nullable(),
      }),
    },
    async ({ person, query: { afterSeq, limit, property } }) => {
      const facts = await ledger.listFacts(person.firm, {
        afterSeq,
        limit,
        ...(property === undefined ? {} : { property }),
      });
      const last = facts.at(-1)?.receipt?.seq;
      return { facts, nextAfterSeq: facts.length === limit && last !== undefined ? last : null };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/verify',
      tag: 'records',
      summary: "Walk the firm's hash chain: was any stored record altered?",
      roles: ['lead', 'owner', 'inspector'],
      result: z.discriminatedUnion('sound', [
        z.object({ sound: z.literal(true), facts: z.number().int(), head: z.string() }),
        z.object({
          sound: z.literal(false),
          facts: z.number().int(),
          brokenAtSeq: z.number().int(),
          why: z.string(),
        }),
      ]),
    },
    async ({ person }) => ledger.verify(person.firm),
  );
}
