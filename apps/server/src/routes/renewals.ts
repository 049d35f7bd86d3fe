import { z } from '@hono/zod-openapi';
import { LETTER_GAPS, lettersBinding, PAPER_LANGUAGES, renderHtml } from '@sillwatch/paper';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { type App, addRoute } from '../http/route.ts';
import { drawLetters } from '../papers/drawn.ts';
import { propertyPaper } from '../papers/propertyPaper.ts';
import { checkAnyLetter, eachRenewalLetter, listRenewals } from '../papers/renewalLetters.ts';
import { readDay } from '../work/days.ts';
import { getProperty } from './properties.ts';
import { askerOf, dayOf, HTML, lang, PDF, paperHeaders, sendPdf, sendText, writtenAt } from './reports.ts';
import { dayText, list } from './schemas.ts';

const id = z.string().min(1).max(200);
/** YYYY-MM */
const month = z.string().regex(/^\d{4}-(0[1-9]|1[0-2])$/);

/** Renewal letters: of one property, and of all whose agreement ends in a month. */
export function addRenewalRoutes(app: App, services: Services): void {
  addListRoute(app, services);
  addMonthRoute(app, services);
  addLetterRoute(app, services);
}

const renewalList = z
  .object({
    /** agreements whose letter can be written, and those where something is missing */
    letters: z.number().int(),
    leftOut: z.number().int(),
    /** a page of those asked for, the earliest first */
    rows: list(
      z.object({
        property: z.string(),
        name: z.string(),
        customer: z.string(),
        renewsOn: z.string(),
        /** the customer's own */
        lang: z.enum(PAPER_LANGUAGES),
        /** what the letter lacks; empty = it can be written */
        gaps: list(z.enum(LETTER_GAPS)),
      }),
    ),
  })
  .openapi('RenewalList');

function addListRoute(app: App, services: Services): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/renewals',
      tag: 'work',
      summary:
        'Agreements that end in a month, page by page: letters that can be written, or what the others lack',
      roles: EVERY_ROLE,
      query: z.object({
        month,
        of: z.enum(['letters', 'left out']).default('letters'),
        offset: z.coerce.number().int().min(0).default(0),
        limit: z.coerce.number().int().min(1).max(500).default(100),
      }),
      result: renewalList,
    },
    async ({ person, query: { month, of, offset, limit } }) => {
      const { entries } = await services.books.open(person.firm);
      const { letters, leftOut } = listRenewals(entries, month);
      const rows = (of === 'letters' ? letters : leftOut).slice(offset, offset + limit);
      return { letters: letters.length, leftOut: leftOut.length, rows };
    },
  );
}

function addMonthRoute(app: App, services: Services): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/reports/renewals',
      tag: 'reports',
      summary:
        'The letters of all agreements that end in a month in one file, and last which were not written',
      roles: EVERY_ROLE,
      query: z.object({
        month,
        /** of the letters; `own` = each in its customer's */
        letters: z.enum(['own', ...PAPER_LANGUAGES]).default('own'),
        /** of what is said to the office */
        lang,
        /** `both`: no letter begins on the back of another */
        sides: z.enum(['one', 'both']).default('one'),
        asOf: dayText.optional(),
      }),
      media: [PDF],
    },
    async ({ person, query: { month, letters, lang, sides, asOf }, context }) => {
      if (asOf !== undefined) readDay(asOf, 'query.asOf');
      const { entries } = await services.books.open(person.firm);
      const renewals = listRenewals(entries, month);
      checkAnyLetter(renewals, month);
      const of = {
        firm: { name: person.firmName, lines: [] },
        month,
        writtenAt: writtenAt(services.deps.now()),
        lang,
      };
      const pieces = await drawLetters(
        services,
        askerOf(person, context),
        lettersBinding(of, sides === 'both' ? 'sheet' : 'page'),
        () => eachRenewalLetter(services, person, renewals, { month: of, letters, asOf }),
      );
      return new Response(new Blob([...pieces]), { headers: paperHeaders(PDF, `renewals-${month}.pdf`) });
    },
  );
}

/** The letter of one property. */
function addLetterRoute(app: App, services: Services): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/reports/renewals/{property}',
      tag: 'reports',
      summary: 'The letter before an agreement ends: what was found in the year, in plain words',
      roles: EVERY_ROLE,
      params: z.object({ property: id }),
      query: z.object({ format: z.enum(['html', 'pdf']).default('html'), lang, asOf: dayText.optional() }),
      media: [HTML, PDF],
    },
    async ({ person, params, query, context }) => {
      const property = await getProperty(services, person.firm, params.property);
      const firm = await services.ledger.getFirm(person.firm);
      const asOf = dayOf(services, property, firm, query.asOf);
      const { document, name } = await propertyPaper(services, person, property, 'renewal letter', {
        visit: null,
        asOf,
        lang: query.lang,
      });
      return query.format === 'pdf'
        ? sendPdf(services, askerOf(person, context), document, name)
        : sendText(renderHtml(document), HTML);
    },
  );
}
