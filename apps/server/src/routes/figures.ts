import { z } from '@hono/zod-openapi';
import { FIGURES } from '@sillwatch/rounds';
import { OFFICE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import type { Reckoner } from '../reckon/reckoner.ts';
import { createToday, readDay } from '../work/days.ts';
import { dayText } from './schemas.ts';

/** How long a request waits before it says that the answer is still being reckoned. */
const PATIENCE_MS = 8_000;

export interface FigureServices extends Services {
  readonly reckoner: Reckoner;
}

/** The figures of the book: is it healthy, do the stations do their work. */
export function addFigureRoutes(app: App, services: FigureServices): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/figures/{name}',
      tag: 'work',
      summary: 'One page of figures, each with its sentence; `reckoning` = ask again in a moment',
      roles: OFFICE,
      params: z.object({ name: z.enum(FIGURES) }),
      query: z.object({ branch: z.string().min(1).max(200).optional(), asOf: dayText.optional() }),
      result: z.object({
        state: z.enum(['done', 'reckoning']),
        /** as `packages/rounds` gives it; null while it is reckoned */
        figures: z.unknown(),
      }),
    },
    async ({ person, params, query }) => {
      if (person.branch !== null && query.branch !== undefined && query.branch !== person.branch)
        throw new Problem('not allowed', `You belong to the branch ${person.branch}.`);
      const firm = await services.ledger.getFirm(person.firm);
      const branch = query.branch ?? person.branch;
      const zone = Object.values(firm.branches).find((one) => branch === null || one.branch === branch);
      const asOf =
        query.asOf === undefined
          ? createToday(services.deps.now()).inZone(zone?.timeZone ?? 'UTC')
          : readDay(query.asOf);
      const reckoned = await services.reckoner.ask(
        person.firm,
        { name: params.name, branch, asOf },
        PATIENCE_MS,
      );
      switch (reckoned.state) {
        case 'done':
          // The worker made the text: no second reading and writing of what may be large.
          return new Response(`{"state":"done","figures":${reckoned.json}}`, {
            headers: { 'content-type': 'application/json', 'cache-control': 'no-store' },
          });
        case 'reckoning':
          return { state: 'reckoning' as const, figures: null };
        case 'failed':
          services.deps.log.error({ name: params.name, error: reckoned.why }, 'figures failed');
          throw new Problem('internal', 'The figures could not be reckoned.');
      }
    },
  );
}
