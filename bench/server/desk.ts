/**
 * How long the office waits for what its screens ask when the firm is large: 20,000 properties, 400,000 stations, 4 million facts, and
 * a plan of four weeks for one of eight branches. Goal: 95 % under 300 ms. Loads, stock and figures: figures.ts.
 * `node bench/server/desk.ts [properties] [database]`: a database that is filled already is used as it is, so that the
 * minutes of filling it are spent once; with `postgres://...` the same on PostgreSQL.
 */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startServer } from '@sillwatch/server';
import { pino } from 'pino';
import { FIRM, fillDeskFirm, STATIONS, seedOwner } from './deskFirm.ts';
import { createOffice, turnClockBack } from './deskOffice.ts';

const PROPERTIES = Number(process.argv[2] ?? 20_000);
const databaseUrl = process.argv[3] ?? join(mkdtempSync(join(tmpdir(), 'sillwatch-desk-')), 'ledger.db');
const PLAN_SECONDS = 20;
const today = turnClockBack();

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
  await seedOwner(server);
  if ((await server.ledger.findHead(FIRM.id)).seq === 0) await fillDeskFirm(server, PROPERTIES);
  const office = createOffice(server);
  await office.setUp(today);
  await office.place(0, PROPERTIES);
  const { seq } = await server.ledger.findHead(FIRM.id);
  console.log(`${PROPERTIES} properties, ${PROPERTIES * STATIONS} stations, ${seq} facts: ${databaseUrl}`);
  const first = await timed('/api/due?limit=1');
  console.log(`first list after a start: ${(first / 1000).toFixed(1)} s`);
  const plan = await makePlan();
  for (const address of addresses(plan)) {
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

function addresses(plan: string): readonly ((run: number) => string)[] {
  const property = (run: number) => `/api/properties/house-${(run * 997) % PROPERTIES}`;
  return [
    () => '/api/due?withinDays=60&limit=1',
    (run) => `/api/due?withinDays=60&group=late&limit=100&offset=${run * 100}`,
    (run) => `/api/due?withinDays=60&limit=100&text=lane%20${run}`,
    () => '/api/properties?limit=100',
    (run) => `/api/properties?limit=100&text=house%20${run}`,
    () => `/api/properties?limit=100&renewsIn=${today.slice(0, 7)}`,
    property,
    (run) => `${property(run)}/facts`,
    (run) => `${property(run)}/diagram`,
    (run) => `${property(run)}/site`,
    (run) => `${property(run)}/links`,
    () => '/api/branches',
    () => '/api/profiles',
    () => '/api/models',
    () => '/api/people',
    () => '/api/office',
    () => '/api/links',
    () => '/api/mail',
    () => '/api/imports',
    () => '/api/plans?branch=branch-0',
    () => `/api/plans/${plan}`,
    () => `/api/rounds?from=${today}`,
    () => `/api/rounds/sent?from=${today}&to=${today}`,
    () => `/api/rounds/driver-0-0/${today}`,
  ];
}

/** Its number, once it is done. */
async function makePlan(): Promise<string> {
  const body = JSON.stringify({ branch: 'branch-0', weeks: 4, seconds: PLAN_SECONDS });
  const started = performance.now();
  const answer = await fetch(`${server.url}/api/plans`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: server.url },
    body,
  });
  const text = await answer.text();
  if (answer.status !== 201) throw new Error(`plan: ${answer.status} ${text.slice(0, 300)}`);
  const { id } = JSON.parse(text);
  for (;;) {
    const { state, message } = JSON.parse(await (await fetch(`${server.url}/api/plans/${id}`)).text());
    if (state === 'done') break;
    if (state !== 'waiting' && state !== 'running') throw new Error(`plan: ${state} ${message ?? ''}`);
    await new Promise((resolve) => setTimeout(resolve, 1000));
  }
  console.log(`plan of branch-0, four weeks: ${((performance.now() - started) / 1000).toFixed(0)} s`);
  return id;
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
