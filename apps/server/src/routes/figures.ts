import { z } from '@hono/zod-openapi';
import { FIGURES } from '@sillwatch/rounds';
import { OFFICE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { PATIENCE_MS, reckonedSchema, toResponse } from '../reckon/reckonedAnswer.ts';
import type { Reckoner } from '../reckon/reckoner.ts';
import { createToday, readDay } from '../work/days.ts';
import { dayText } from './schemas.ts';

/** Rows of each list that a page shows; whoever wants more says so. */
const USUAL_ROWS = 200;
const MOST_ROWS = 1_000_000;

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
      query: z.object({
        branch: z.string().min(1).max(200).optional(),
        asOf: dayText.optional(),
        most: z.coerce.number().int().min(1).max(MOST_ROWS).default(USUAL_ROWS).openapi({
          description:
            'rows of each list of properties or stations; `rowsLeftOut` says how many more there are',
        }),
      }),
      // As `packages/rounds` gives it, and `names` of the properties that its rows name.
      result: reckonedSchema('figures', z.unknown()),
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
      const question = {
        name: params.name,
        branch,
        asOf,
        isDayNamed: query.asOf !== undefined,
        most: query.most,
      };
      const reckoned = await services.reckoner.ask(person.firm, question, PATIENCE_MS);
      return toResponse(reckoned, 'figures', asOf, services.deps.log, null);
    },
  );
}
