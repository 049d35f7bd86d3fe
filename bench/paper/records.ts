/**
 * How long the application record takes as a PDF, by its number of applications: from facts to rows, from rows to file.
 * The pages and the rows are checked outside the timed part. Usage: node bench/paper/records.ts [applications ...]
 */
import { applicationRecords, recordDocument, renderPdf } from '@sillwatch/paper';
import { DEMO_PROFILE } from '@sillwatch/trade';
import { applicationFacts } from './applications.ts';

const counts = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [250, 500, 1000, 2000, 4000];
const RUNS = 3;

function document(count: number) {
  const rows = applicationRecords(applicationFacts(count));
  return recordDocument({
    firm: { name: 'Invented Sill Care', lines: [] },
    rows,
    filter: {},
    profiles: [DEMO_PROFILE],
    writtenAt: '2026-03-04T17:00:00-05:00',
  });
}

function medianOf(times: readonly number[]): number {
  return times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)] ?? 0;
}

// The faces are parsed once a process.
await renderPdf(document(10));
for (const count of counts) {
  const read: number[] = [];
  const drawn: number[] = [];
  const worked: number[] = [];
  let bytes: Uint8Array = new Uint8Array();
  for (let run = 0; run < RUNS; run += 1) {
    const start = performance.now();
    const paper = document(count);
    const middle = performance.now();
    const before = process.cpuUsage();
    bytes = await renderPdf(paper);
    read.push(middle - start);
    drawn.push(performance.now() - middle);
    const { user, system } = process.cpuUsage(before);
    worked.push((user + system) / 1000);
    const rows = paper.blocks.reduce(
      (sum, block) => sum + (block.kind === 'table' ? block.rows.length : 0),
      0,
    );
    if (rows < count) throw new Error(`expected ${count} rows at least, got ${rows}`);
  }
  const pages =
    Buffer.from(bytes)
      .toString('latin1')
      .match(/\/Type \/Page\b/g)?.length ?? 0;
  if (pages < count / 10) throw new Error(`${count} applications on ${pages} pages`);
  const ms = medianOf(drawn);
  console.log(
    `${count} applications, ${pages} pages, ${(bytes.length / 1e6).toFixed(1)} MB: read ${medianOf(read).toFixed(0)} ms, ` +
      `drawn ${ms.toFixed(0)} ms (${medianOf(worked).toFixed(0)} ms of processor time), ${((ms / count) * 1000).toFixed(0)} us each (median of ${RUNS})`,
  );
}
