import { z } from '@hono/zod-openapi';
import { type DueWindow, dayToText, timelinessOn, WORKS } from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { type App, addRoute } from '../http/route.ts';
import { readDay } from '../work/days.ts';
import { DUE_GROUPS, type DueRow, findDue } from '../work/dueRows.ts';
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
    works: list(
      z.object({
        work: z.enum(WORKS),
        stations: z.number().int(),
        /** the soonest window of these stations */
        earliest: dayText,
        target: dayText,
        latest: dayText,
      }),
    ),
    stations: z.number().int(),
    /** of the most urgent item; null where work only waits for feeding to end */
    earliest: dayText.nullable(),
    target: dayText.nullable(),
    latest: dayText.nullable(),
    timeliness: timeliness.nullable(),
    late: z.number().int(),
    held: z.number().int(),
  })
  .openapi('DueRow');

const count = z.number().int();

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
        town: z.string().min(1).max(500).optional(),
        /** words that name, street, town, customer or tags contain */
        text: z.string().max(500).optional(),
        work: z.enum(WORKS).optional(),
        /** account id: only where this person was last */
        technician: z.string().min(1).max(200).optional(),
        /** rows of one group only; `held` = a yearly service waits there for feeding to end, whatever else is owed */
        group: z.enum(DUE_GROUPS).optional(),
        withinDays: z.coerce.number().int().min(0).max(800).default(0),
        offset: z.coerce.number().int().min(0).default(0),
        limit: z.coerce.number().int().min(1).max(10_000).default(1000),
      }),
      result: z.object({
        rows: list(row),
        /** rows after these */
        moreRows: count,
        /** stations, by how their items stand; properties asked about */
        summary: z.object({
          properties: count,
          notYet: count,
          open: count,
          pastTarget: count,
          late: count,
          held: count,
        }),
        /** rows of each group, whichever was asked for */
        groups: z.object({ late: count, open: count, coming: count, held: count }),
        /** towns with rows, as if no town had been asked for */
        towns: list(z.object({ town: z.string(), rows: count })),
        /** properties without a label profile: their work cannot be told */
        withoutProfile: list(z.string()),
      }),
    },
    async ({ person, query: { offset, limit, ...query } }) => {
      const book = await services.books.open(person.firm);
      const answer = findDue(book, {
        asOf: query.asOf === undefined ? undefined : readDay(query.asOf),
        branch: query.branch,
        property: query.property,
        town: query.town,
        text: query.text,
        work: query.work,
        technician: query.technician,
        group: query.group,
        withinDays: query.withinDays,
      });
      const { counts } = answer;
      return {
        rows: answer.rows.slice(offset, offset + limit).map(showRow),
        moreRows: Math.max(0, answer.rows.length - offset - limit),
        summary: {
          properties: answer.properties,
          notYet: counts['not yet'],
          open: counts.open,
          pastTarget: counts['past target'],
          late: counts.late,
          held: answer.held,
        },
        groups: answer.groups,
        towns: [...answer.towns]
          .map(([town, rows]) => ({ town, rows }))
          .sort((a, b) => a.town.localeCompare(b.town)),
        withoutProfile: answer.withoutProfile,
      };
    },
  );
}

function showRow({ entry, asOf, window, works, stations, late, held }: DueRow): z.input<typeof row> {
  return {
    property: entry.property,
    name: entry.name,
    town: entry.town,
    branch: entry.branch,
    asOf: dayToText(asOf),
    works: works.map(({ work, stations: of, ...window }) => ({ work, stations: of, ...showWindow(window) })),
    stations,
    ...(window === null ? NO_WINDOW : showWindow(window)),
    timeliness: window === null ? null : timelinessOn(window, asOf),
    late,
    held,
  };
}

const NO_WINDOW = { earliest: null, target: null, latest: null } as const;

function showWindow({ earliest, target, latest }: DueWindow) {
  return { earliest: dayToText(earliest), target: dayToText(target), latest: dayToText(latest) };
}
