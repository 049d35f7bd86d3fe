import { z } from '@hono/zod-openapi';
import { type Day, dayToText } from '@sillwatch/trade';
import type { ServerDeps } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { dayText } from '../routes/schemas.ts';
import type { Reckoned } from './reckoner.ts';

/** How long a request waits for a first answer before it says that it is being reckoned. */
export const PATIENCE_MS = 200;

/** What every answer of the figure threads brings beside itself, which stands under `name`; null while it is first reckoned. */
export function reckonedSchema<N extends string>(name: N, answer: z.ZodType) {
  return z.object({
    /** `reckoning` = there is no answer yet: ask again in a moment */
    state: z.enum(['done', 'reckoning']),
    /** the day that it is about: of an answer that is being reckoned anew it may be an earlier one */
    asOf: dayText,
    /** when it was reckoned; null = not yet */
    reckonedAt: z.string().nullable(),
    /** entries recorded since then that are not in it */
    behind: z.number().int(),
    [name]: answer,
  });
}

/** The answer as it goes out. The thread made the text: no second reading and writing of what may be large. */
export function toResponse(
  reckoned: Reckoned,
  name: string,
  asOf: Day,
  log: ServerDeps['log'],
  schema: z.ZodType | null,
): Response {
  if (reckoned.state === 'failed') {
    log.error({ name, error: reckoned.why }, 'figures failed');
    throw new Problem('internal', 'The figures could not be reckoned.');
  }
  const isDone = reckoned.state === 'done';
  if (isDone && reckoned.failure !== null)
    log.error(
      { name, error: reckoned.failure },
      'figures could not be reckoned anew; the last ones are shown',
    );
  const head = {
    state: reckoned.state,
    asOf: dayToText(isDone ? reckoned.asOf : asOf),
    reckonedAt: isDone ? new Date(reckoned.reckonedAt).toISOString() : null,
    behind: isDone ? reckoned.behind : 0,
  };
  const text = `${JSON.stringify(head).slice(0, -1)},"${name}":${isDone ? reckoned.json : 'null'}}`;
  schema?.parse(JSON.parse(text));
  return new Response(text, { headers: { 'content-type': 'application/json', 'cache-control': 'no-store' } });
}
