import { z } from '@hono/zod-openapi';
import { dayToText, timelinessOn, WORKS } from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { type App, addRoute } from '../http/route.ts';
import { createToday, readDay } from '../work/days.ts';
import { type DueRow, findDue } from '../work/dueRows.ts';
import { dayText, list } from './schemas.ts';
import { timeliness } from './stateSchemas.ts';

const row = z
  .object({
    property: z.string(),
    name: z.string(),
    town: z.string(),
    branch: z.string(),
    asOf: dayText,
    /** stations owed each kind of work */
    works: list(z.object({ work: z.enum(WORKS), stations: z.number().int() })),
    stations: z.number().int(),
    /** of the most urgent item */
    earliest: dayText,
    target: dayText,
    latest: dayText,
    timeliness,
    late: z.number().int(),
    held: z.number().int(),
  })
  .openapi('DueRow');

export function addDueRoutes(app: App, services: Services): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/due',
      tag: 'work',
      summary: 'Owed work, one row a property, the most urgent first',
      roles: EVERY_ROLE,
      query: z.object({
        /** default: today where the property stands */
        asOf: dayText.optional(),
        branch: z.string().min(1).optional(),
        property: z.string().min(1).optional(),
        work: z.enum(WORKS).optional(),
        withinDays: z.coerce.number().int().min(0).max(800).default(0),
        limit: z.coerce.number().int().min(1).max(10_000).default(1000),
      }),
      result: z.object({
        rows: list(row),
        /** rows that the limit cut off */
        moreRows: z.number().int(),
        summary: z.object({
          properties: z.number().int(),
          notYet: z.number().int(),
          open: z.number().int(),
          pastTarget: z.number().int(),
          late: z.number().int(),
          held: z.number().int(),
        }),
        /** properties without a label profile: their work cannot be told */
        withoutProfile: list(z.string()),
      }),
    },
    async ({ person, query }) => {
      const firm = await services.ledger.getFirm(person.firm);
      const answer = await findDue(
        services.ledger,
        person.firm,
        firm,
        {
          asOf: query.asOf === undefined ? undefined : readDay(query.asOf),
          branch: query.branch,
          property: query.property,
          work: query.work,
          withinDays: query.withinDays,
        },
        createToday(services.deps.now()),
      );
      const { counts } = answer;
      return {
        rows: answer.rows.slice(0, query.limit).map(showRow),
        moreRows: Math.max(0, answer.rows.length - query.limit),
        summary: {
          properties: answer.properties,
          notYet: counts['not yet'],
          open: counts.open,
          pastTarget: counts['past target'],
          late: counts.late,
          held: answer.held,
        },
        withoutProfile: answer.withoutProfile,
      };
    },
  );
}

function showRow({ property, asOf, items, ...rest }: DueRow): z.input<typeof row> {
  return {
    property: property.property,
    name: property.body?.name ?? '',
    town: property.body?.address.town ?? '',
    branch: property.body?.branch ?? '',
    asOf: dayToText(asOf),
    works: WORKS.map((work) => ({
      work,
      stations: items.filter((item) => item.work === work).length,
    })).filter(({ stations }) => stations > 0),
    stations: new Set(items.map(({ station }) => station)).size,
    earliest: dayToText(rest.earliest),
    target: dayToText(rest.target),
    latest: dayToText(rest.latest),
    timeliness: timelinessOn(rest, asOf),
    late: rest.late,
    held: rest.held,
  };
}
