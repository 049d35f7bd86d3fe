/** Runs in a worker thread: files in, a plan of facts out. Touches no database. */
import { parentPort, workerData } from 'node:worker_threads';
import { guessMapping, overrideMapping, planImport, readTable, type Table } from '@sillwatch/paper';
import type { ImportJob, ImportMessage, ImportOutcome, ImportProgress } from './importJob.ts';

const port = parentPort;
if (port === null) throw new Error('this file runs as a worker only');
const job: ImportJob = workerData;
const post = (message: ImportMessage): void => port.postMessage(message);
post({ kind: 'outcome', outcome: plan(job, (progress) => post({ kind: 'progress', progress })) });

function plan(
  { files, mapping: given, lang, context }: ImportJob,
  report: (progress: ImportProgress) => void,
): ImportOutcome {
  const results = files.map(({ name, bytes }) =>
    readTable(bytes, name, (rows) => report({ stage: 'reading', done: rows, total: 0 }), lang),
  );
  const unreadable = results.flatMap((result) => (result.ok ? [] : [result.problem]));
  if (unreadable.length > 0) return { ok: false, files: unreadable, mapping: [] };
  const tables: readonly Table[] = results.flatMap((result) => (result.ok ? [result.table] : []));
  const guess = guessMapping(tables, lang);
  const laid =
    given === undefined
      ? { ok: true as const, mapping: guess.mapping }
      : overrideMapping(guess.mapping, given);
  if (!laid.ok) return { ok: false, files: [], mapping: laid.problems };
  const { known, takenBack, firmDefaults, ...rest } = context;
  // What the firm has only one of needs no column.
  const mapping = { ...laid.mapping, defaults: { ...firmDefaults, ...laid.mapping.defaults } };
  return {
    ok: true,
    plan: planImport({
      tables,
      mapping,
      lang,
      context: { ...rest, findKnown: (id) => known.get(id), isTakenBack: (id) => takenBack.has(id) },
      onProgress: (done, total) => report({ stage: 'planning', done, total }),
    }),
    mapping,
    columns: guess.columns,
    warnings: guess.warnings,
  };
}
