import { z } from '@hono/zod-openapi';
import {
  LABEL_STOCK_NAMES,
  LABEL_STOCKS,
  type LabelPaper,
  labelsOfProperty,
  newTags,
  type PaperLanguage,
  readRecordFilter,
  readStationNumbers,
  renderHtml,
  type TagLabel,
  workListCsv,
  workListDocument,
} from '@sillwatch/paper';
import type { RoundBody } from '@sillwatch/trade';
import { EVERY_ROLE, OFFICE } from '../accounts/roles.ts';
import type { AppSettings } from '../app.ts';
import type { Person } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { type Asker, drawBundle, piecesOf } from '../papers/drawn.ts';
import { readRoundPaper } from '../papers/roundPaper.ts';
import { readDay } from '../work/days.ts';
import type { RoundShelf } from '../work/rounds.ts';
import { getProperty } from './properties.ts';
import { addRenewalRoutes } from './renewals.ts';
import {
  askerOf,
  CSV,
  HTML,
  lang,
  PDF,
  paperHeaders,
  recordQuery,
  sendPdf,
  sendText,
  writtenAt,
} from './reports.ts';
import { dayText } from './schemas.ts';

const id = z.string().min(1).max(200);
const ZIP = 'application/zip';
/** A bundle is made in memory here; a larger one is written at the terminal. */
const MOST_BUNDLE_FACTS = 200_000;

const stockName = z.enum(LABEL_STOCK_NAMES).default('letter 3x10');
const millimetres = z.number().min(0).max(2000);
const stock = z.union([
  z.enum(LABEL_STOCK_NAMES),
  z.object({ kind: z.literal('roll'), labelWidthMm: millimetres, labelHeightMm: millimetres }),
  z.object({
    kind: z.literal('sheet'),
    pageWidthMm: millimetres,
    pageHeightMm: millimetres,
    columns: z.number().int().min(1).max(100),
    rows: z.number().int().min(1).max(100),
    labelWidthMm: millimetres,
    labelHeightMm: millimetres,
    leftMm: millimetres,
    topMm: millimetres,
    pitchXMm: millimetres,
    pitchYMm: millimetres,
  }),
]);

/** Further papers: work list, renewal letter, tag labels, inspector's bundle. */
export function addPaperRoutes(app: App, settings: AppSettings, rounds: RoundShelf): void {
  addWorkListRoute(app, settings, rounds);
  addRenewalRoutes(app, settings);
  addLabelRoutes(app, settings);
  addBundleRoute(app, settings);
}

function addWorkListRoute(app: App, settings: AppSettings, rounds: RoundShelf): void {
  const { ledger, accounts, deps } = settings;
  addRoute(
    app,
    settings,
    {
      method: 'get',
      path: '/api/reports/worklists/{person}/{day}',
      tag: 'reports',
      summary: "A technician's round of one day on paper: stops, stations, access, hazards, load",
      roles: EVERY_ROLE,
      params: z.object({ person: id, day: dayText }),
      query: z.object({ format: z.enum(['html', 'pdf', 'csv']).default('html'), lang }),
      media: [HTML, PDF, CSV],
    },
    async ({ person, params, query, context }) => {
      const driver = await accounts.findPerson(params.person);
      if (driver === undefined || driver.firm !== person.firm)
        throw new Problem('not found', 'The firm has no such person.');
      readDay(params.day, 'path.day');
      if (params.day < rounds.firstDay())
        throw new Problem('not found', `Work lists of days before ${rounds.firstDay()} are not kept ready.`);
      const published = await rounds.list(person.firm);
      const round = published.find((one) => one.person === params.person && one.day === params.day);
      const input = {
        firm: { name: person.firmName, lines: [] },
        personName: driver.name,
        writtenAt: writtenAt(deps.now()),
        lang: query.lang,
        ...(await readRoundPaper(ledger, person.firm, round ?? emptyRound(params.person, params.day))),
      };
      const name = `worklist-${params.day}`;
      if (query.format === 'csv') return sendText(workListCsv(input), CSV, `${name}.csv`);
      const document = workListDocument(input);
      return query.format === 'pdf'
        ? sendPdf(settings, askerOf(person, context), document, name)
        : sendText(renderHtml(document), HTML);
    },
  );
}

/** A day without a round is a list that says so. */
function emptyRound(person: string, day: string): RoundBody {
  return {
    plan: '',
    branch: '',
    person,
    day,
    startsAt: `${day}T00:00:00Z`,
    endsAt: `${day}T00:00:00Z`,
    breakMinutes: 0,
    travel: 'great circle',
    visits: [],
  };
}

function addLabelRoutes(app: App, settings: AppSettings): void {
  const { deps } = settings;

  addRoute(
    app,
    settings,
    {
      method: 'get',
      path: '/api/reports/labels/{property}',
      tag: 'reports',
      summary: "Labels with codes for the tags of a property's stations",
      roles: EVERY_ROLE,
      params: z.object({ property: id }),
      query: z.object({
        stock: stockName,
        /** labels of the first sheet that are used up */
        skip: z.coerce.number().int().min(0).max(200).default(0),
        /** stations by number, `1-10, 14`; absent = all */
        only: z.string().min(1).max(500).optional(),
        lang,
      }),
      media: [PDF],
    },
    async ({ person, params, query, context }) =>
      sendLabels(settings, askerOf(person, context), {
        stock: LABEL_STOCKS[query.stock],
        labels: await labelsOf(settings, person, { ...query, property: params.property }, 'query'),
        skip: query.skip,
        firmName: person.firmName,
        writtenAt: writtenAt(deps.now()),
        lang: query.lang,
      }),
  );

  addRoute(
    app,
    settings,
    {
      method: 'post',
      path: '/api/reports/labels',
      tag: 'reports',
      summary:
        'Labels with codes on any sheet or roll given in numbers: for tags that nothing carries yet (`first`, `count`), or for those ' +
        "of a property's stations (`property`)",
      roles: OFFICE,
      body: z.object({
        property: id.optional(),
        /** of the property, stations by number, `1-10, 14`; absent = all */
        only: z.string().min(1).max(500).optional(),
        prefix: z.string().max(20).default(''),
        /** filled with zeros to its own width: 0098, 0099, 0100 */
        first: z
          .string()
          .regex(/^\d{1,12}$/)
          .optional(),
        count: z.number().int().min(1).max(2000).optional(),
        stock: stock.default('letter 3x10'),
        skip: z.number().int().min(0).max(200).default(0),
        lang,
      }),
      media: [PDF],
    },
    async ({ person, body, context }) =>
      sendLabels(settings, askerOf(person, context), {
        stock: typeof body.stock === 'string' ? LABEL_STOCKS[body.stock] : body.stock,
        labels:
          body.property === undefined
            ? newLabels(person, body)
            : await labelsOf(settings, person, { ...body, property: body.property }, 'body'),
        skip: body.skip,
        firmName: person.firmName,
        writtenAt: writtenAt(deps.now()),
        lang: body.lang,
      }),
  );
}

interface LabelsAsked {
  readonly property: string;
  readonly only?: string | undefined;
  readonly lang: PaperLanguage;
}

/** Throws `paper cannot be written` where none of the stations has a tag. */
async function labelsOf(
  settings: AppSettings,
  { firm, firmName }: Person,
  { property: asked, only, lang: own }: LabelsAsked,
  where: 'query' | 'body',
): Promise<readonly TagLabel[]> {
  const property = await getProperty(settings, firm, asked);
  const { labels, untagged } = labelsOfProperty(
    property,
    firmName,
    own,
    only === undefined ? undefined : readOnly(only, where),
  );
  if (labels.length === 0)
    throw new Problem(
      'paper cannot be written',
      `No station of those asked for has a tag yet (${untagged.length} in service).`,
    );
  return labels;
}

interface NewLabelsAsked {
  readonly prefix: string;
  readonly first?: string | undefined;
  readonly count?: number | undefined;
}

function newLabels({ firmName }: Person, { prefix, first, count }: NewLabelsAsked): readonly TagLabel[] {
  if (first === undefined || count === undefined)
    throw new Problem('malformed', 'Nothing says which labels are wanted.', {
      errors: [{ at: 'body', message: 'give `property`, or `first` and `count` of new tags' }],
    });
  return newTags(prefix, first, count).map((tag) => ({ tag, lines: [firmName] }));
}

function readOnly(text: string, where: 'query' | 'body'): ReadonlySet<number> {
  try {
    return readStationNumbers(text);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new Problem('malformed', `The stations cannot be read: ${error.message}.`, {
      errors: [{ at: `${where}.only`, message: error.message }],
    });
  }
}

async function sendLabels(
  { press }: AppSettings,
  { firm, signal }: Asker,
  paper: LabelPaper,
): Promise<Response> {
  const pressed = await press.draw(firm, { kind: 'labels', paper }, signal);
  if (!pressed.ok && pressed.reason === 'cannot be drawn')
    throw new Problem('malformed', `The labels cannot be printed: ${pressed.why}.`, {
      errors: [{ at: 'stock', message: pressed.why }],
    });
  return new Response(new Blob([...piecesOf(pressed)]), { headers: paperHeaders(PDF, 'labels.pdf') });
}

function addBundleRoute(app: App, settings: AppSettings): void {
  const { deps } = settings;
  addRoute(
    app,
    settings,
    {
      method: 'get',
      path: '/api/reports/bundle',
      tag: 'reports',
      summary:
        "An inspector's bundle: the application record as PDF and CSV, the entries behind it, and the proof",
      roles: ['inspector', 'lead', 'owner'],
      query: z.object({
        ...recordQuery,
        property: id.optional(),
        /** every entry of the firm, so that the chain is recomputed from its beginning */
        whole: z.enum(['true', 'false']).default('false'),
        lang,
      }),
      media: [ZIP],
    },
    async ({ person, query, context }) => {
      if (query.property !== undefined) await getProperty(settings, person.firm, query.property);
      const filter = readRecordFilter(query, (text, field) => readDay(text, `query.${field}`));
      const request = {
        firm: person.firm,
        card: { name: person.firmName, lines: [] },
        filter,
        isWhole: query.whole === 'true',
        writtenAt: writtenAt(deps.now()),
        lang: query.lang,
        mostFacts: MOST_BUNDLE_FACTS,
      };
      const pieces = await drawBundle(settings, askerOf(person, context), request);
      return new Response(new Blob([...pieces]), {
        headers: {
          ...paperHeaders(ZIP, 'application-record.zip'),
          'content-disposition': 'attachment; filename="application-record.zip"',
        },
      });
    },
  );
}
