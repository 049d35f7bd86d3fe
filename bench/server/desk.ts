/**
 * How long the office waits for each of its lists when the firm is large: 20,000 properties, 400,000 stations, 4 million facts.
 * `node bench/server/desk.ts [properties] [database]`: a database that exists already is used as it is, so that the
 * minutes of filling it are spent once; with `postgres://...` the same on PostgreSQL.
 */
import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startServer } from '@sillwatch/server';
import { pino } from 'pino';
import { FIRM, fillDeskFirm, STATIONS } from './deskFirm.ts';

const PROPERTIES = Number(process.argv[2] ?? 20_000);
const databaseUrl = process.argv[3] ?? join(mkdtempSync(join(tmpdir(), 'sillwatch-desk-')), 'ledger.db');
const isFilled = !databaseUrl.startsWith('postgres') && existsSync(databaseUrl);

const server = await startServer({
  port: 0,
  databaseUrl,
  dataFolder: tmpdir(),
  webFolder: 'nowhere',
  log: pino({ level: 'silent' }),
  openAs: 'owner',
  limits: { requestsPerMinute: 1_000_000, signIns: 1000 },
});
try {
  if (!isFilled) await fillDeskFirm(server, PROPERTIES);
  const { seq } = await server.ledger.findHead(FIRM.id);
  console.log(`${PROPERTIES} properties, ${PROPERTIES * STATIONS} stations, ${seq} facts: ${databaseUrl}`);
  const first = await timed('/api/due?limit=1');
  console.log(`first list after a start: ${(first / 1000).toFixed(1)} s`);
  for (const address of addresses()) {
    const times: number[] = [];
    for (let run = 0; run < 40; run += 1) times.push(await timed(address(run)));
    times.sort((a, b) => a - b);
    console.log(
      `${address(0).padEnd(64)} median ${at(times, 0.5)} ms, 95 % ${at(times, 0.95)} ms, most ${at(times, 1)} ms`,
    );
  }
  console.log(`memory ${(process.memoryUsage.rss() / 2 ** 20).toFixed(0)} MiB`);
} finally {
  await server.stop();
}

function addresses(): readonly ((run: number) => string)[] {
  const property = (run: number) => `house-${(run * 997) % PROPERTIES}`;
  return [
    () => '/api/due?withinDays=60&limit=1',
    (run) => `/api/due?withinDays=60&group=late&limit=100&offset=${run * 100}`,
    (run) => `/api/due?withinDays=60&limit=100&text=lane%20${run}`,
    () => '/api/properties?limit=100',
    (run) => `/api/properties?limit=100&text=house%20${run}`,
    (run) => `/api/properties/${property(run)}`,
    (run) => `/api/properties/${property(run)}/facts`,
    () => '/api/branches',
    () => '/api/profiles',
  ];
}

async function timed(address: string): Promise<number> {
  const start = performance.now();
  const answer = await fetch(`${server.url}${address}`);
  const text = await answer.text();
  if (answer.status !== 200) throw new Error(`${address}: ${answer.status} ${text.slice(0, 300)}`);
  return performance.now() - start;
}

function at(sorted: readonly number[], share: number): string {
  return (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN).toFixed(0);
}
