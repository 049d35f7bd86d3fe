import { z } from '@hono/zod-openapi';
import { FIELDS, PAPER_LANGUAGES } from '@sillwatch/paper';
import type { Context } from 'hono';
import { OFFICE } from '../accounts/roles.ts';
import type { Env, Services } from '../http/context.ts';
import { Problem, problemResponse } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import type { ImportFile, ImportProgress } from '../imports/importJob.ts';
import { createImportShelf } from '../imports/importShelf.ts';
import { type ImportAnswer, runImport } from '../imports/runImport.ts';
import { withdrawImport } from '../imports/withdrawImport.ts';
import { list } from './schemas.ts';

const MOST_BYTES = 50 * 1024 * 1024;
const LINES = 'application/x-ndjson';

const field = z.string().openapi({ enum: Object.keys(FIELDS) });
const importAnswer = z
  .object({
    dryRun: z.boolean(),
    /** facts stored, all in one transaction; 0 on a dry run */
    stored: z.number().int(),
    planned: z.number().int(),
    summary: z.object({
      rows: z.number().int(),
      newProperties: z.number().int(),
      changedProperties: z.number().int(),
      newStations: z.number().int(),
      changedStations: z.number().int(),
      newLooks: z.number().int(),
      knownRows: z.number().int(),
    }),
    /** dry run only: otherwise a problem refuses the file */
    problems: list(
      z.object({
        file: z.string(),
        sheet: z.string(),
        row: z.number().int(),
        column: z.string(),
        value: z.string(),
        reason: z.string(),
        remedy: z.string(),
      }),
    ),
    problemCount: z.number().int(),
    /** how the columns were read; send it back, edited, as `mapping` */
    mapping: z.unknown(),
    columns: list(
      z.object({
        file: z.string(),
        sheet: z.string(),
        column: z.string(),
        field: field.nullable(),
        confidence: z.number(),
        sample: z.string(),
      }),
    ),
    warnings: list(z.string()),
    /** by which it can be taken back (its first and last place in the ledger); null where nothing was stored */
    id: z.string().nullable(),
  })
  .openapi('Import');

const pastImport = z
  .object({
    id: z.string(),
    by: z.string(),
    importedAt: z.string(),
    facts: z.number().int(),
    /** null = it was not taken back */
    takenBackAt: z.string().nullable(),
  })
  .openapi('PastImport');

export function addImportRoutes(app: App, services: Services): void {
  addWithdrawRoutes(app, services);
  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/imports',
      tag: 'records',
      summary:
        'Take over properties, stations and past visits from CSV or XLSX: one file as the body, or several as ' +
        'multipart form data beside a JSON part `mapping`. All or nothing. Asked for as lines of JSON, it tells its progress',
      roles: OFFICE,
      query: z.object({
        dryRun: z.enum(['true', 'false']).default('false'),
        /** name of the file, when it is the body itself */
        file: z.string().min(1).max(200).default('file'),
        /** of what stands in the way */
        lang: z.enum(PAPER_LANGUAGES).default('en-US'),
      }),
      file: {
        mediaTypes: [
          'text/csv',
          'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
          'application/octet-stream',
          'multipart/form-data',
        ],
      },
      maxBodyBytes: MOST_BYTES,
      result: importAnswer,
      media: [LINES],
    },
    async ({ person, query, file, context }) => {
      const request = {
        ...(await readFiles(file, query.file, context.req.header('content-type') ?? '')),
        dryRun: query.dryRun === 'true',
        lang: query.lang,
      };
      const run = (onProgress: (progress: ImportProgress) => void): Promise<ImportAnswer> =>
        runImport(services, person, request, onProgress, context.req.raw.signal);
      if (context.req.header('accept')?.includes(LINES) !== true) return run(() => {});
      return streamLines(services, context, run);
    },
  );
}

interface Uploaded {
  readonly files: readonly ImportFile[];
  readonly mapping: unknown;
}

async function readFiles(body: Uint8Array, name: string, mediaType: string): Promise<Uploaded> {
  if (!/^multipart\/form-data\b/i.test(mediaType))
    return { files: [{ name, bytes: body }], mapping: undefined };
  const files: ImportFile[] = [];
  let mapping: unknown;
  for (const [key, value] of await readForm(body, mediaType)) {
    if (key === 'mapping') mapping = readMapping(typeof value === 'string' ? value : await value.text());
    else if (typeof value !== 'string') {
      files.push({
        name: value.name === '' ? key : value.name,
        bytes: new Uint8Array(await value.arrayBuffer()),
      });
    }
  }
  if (files.length > 0) return { files, mapping };
  throw new Problem('malformed', 'The form holds no file.', {
    errors: [{ at: 'body', message: 'add a part with a file name' }],
  });
}

async function readForm(body: Uint8Array, mediaType: string): Promise<FormData> {
  try {
    return await new Response(Uint8Array.from(body), { headers: { 'content-type': mediaType } }).formData();
  } catch {
    throw new Problem('malformed', 'The form data cannot be read.');
  }
}

function readMapping(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new Problem('malformed', 'The mapping is not JSON.', {
      errors: [{ at: 'mapping', message: 'send a JSON object' }],
    });
  }
}

/** What was imported, and taking one import back as a whole. */
function addWithdrawRoutes(app: App, services: Services): void {
  const shelf = createImportShelf(services.ledger);

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/imports',
      tag: 'records',
      summary: 'Imports of the firm, the latest first',
      roles: OFFICE,
      query: z.object({ limit: z.coerce.number().int().min(1).max(500).default(50) }),
      result: z.object({ imports: list(pastImport) }),
    },
    async ({ person, query }) => ({ imports: (await shelf.list(person.firm)).slice(0, query.limit) }),
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/imports/{id}/withdraw',
      tag: 'records',
      summary: 'Take one import back: every entry of it is withdrawn by a correction, all or nothing',
      roles: OFFICE,
      params: z.object({ id: z.string().min(3).max(40) }),
      body: z.object({
        /** stands in the record of each entry */
        why: z.string().trim().min(3).max(500),
        /** also where later entries lean on it */
        evenSo: z.boolean().default(false),
      }),
      result: z
        .object({
          id: z.string(),
          withdrawn: z.number().int(),
          alreadyWithdrawn: z.number().int(),
          leaning: z.number().int(),
        })
        .openapi('ImportWithdrawn'),
    },
    async ({ person, params, body }) => withdrawImport(services, person, { id: params.id, ...body }),
  );
}

/** Progress as it comes, then one last line: `{"result": ...}` or `{"problem": ...}`, because the status has gone out by then. */
function streamLines(
  { deps }: Services,
  context: Context<Env>,
  run: (onProgress: (progress: ImportProgress) => void) => Promise<ImportAnswer>,
): Response {
  const requestId = context.get('requestId');
  const encoder = new TextEncoder();
  const stream = new ReadableStream<Uint8Array>({
    async start(controller) {
      const write = (line: unknown): void => controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
      try {
        write({ result: await run((progress) => write({ progress })) });
      } catch (error) {
        if (!(error instanceof Problem)) deps.log.error({ requestId, error: String(error) }, 'import failed');
        const problem = error instanceof Problem ? error : new Problem('internal', 'The import failed.');
        write({ problem: await problemResponse(problem, requestId).json() });
      }
      controller.close();
    },
  });
  return new Response(stream, { headers: { 'content-type': LINES, 'cache-control': 'no-store' } });
}
