/**
 * How long the office waits for each of its lists when the firm is large: 20,000 properties, 400,000 stations, 4 million facts.
 * `node bench/server/desk.ts [properties] [database]`: a database that exists already is used as it is, so that the
 * minutes of filling it are spent once; with `postgres://...` the same on PostgreSQL.
 */
import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { seedAccount, startServer } from '@sillwatch/server';
import { type AnyFact, DEMO_PROFILE, uuidV7 } from '@sillwatch/trade';
import { pino } from 'pino';
import { makePropertyFacts } from '../trade/firm.ts';

const PROPERTIES = Number(process.argv[2] ?? 20_000);
const STATIONS = 20;
const LOOKS = 9;
const FIRM = { id: 'bench', name: 'Invented bench firm' };
const databaseUrl = process.argv[3] ?? join(mkdtempSync(join(tmpdir(), 'sillwatch-desk-')), 'ledger.db');
let officeFacts = 0;
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
  if (!isFilled) await fill();
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

async function fill(): Promise<void> {
  await seedAccount(server.accounts, FIRM, {
    id: 'owner',
    name: 'Invented',
    email: 'owner@example.com',
    role: 'owner',
    branch: null,
    licenceNumber: null,
    certificationNumber: null,
    password: 'bench password, invented',
  });
  const start = performance.now();
  let batch: AnyFact[] = [];
  const send = async () => {
    const verdicts = await server.ledger.append(FIRM.id, batch, '2026-11-25T00:00:00.000Z');
    const refused = verdicts.find(({ verdict }) => verdict === 'refused');
    if (refused !== undefined) throw new Error(JSON.stringify(refused));
    batch = [];
  };
  for (let index = 0; index < PROPERTIES; index += 1) {
    const id = `house-${index}`;
    const facts = makePropertyFacts(index + 1, id, STATIONS, STATIONS * (1 + LOOKS));
    const [model] = facts;
    if (model === undefined) throw new Error('a property has facts');
    if (index === 0) batch.push(officeFact(model, null, 'profile set', DEMO_PROFILE));
    batch.push(officeFact(model, id, 'property added', bodyOf(index)));
    for (const { receipt: _, ...fact } of facts) batch.push(fact);
    if (batch.length > 8000) await send();
    if (index % 2000 === 1999) console.log(`${index + 1} filled, ${seconds(start)} s`);
  }
  await send();
}

function officeFact(like: AnyFact, property: string | null, kind: string, body: unknown): AnyFact {
  const { receipt: _, ...head } = like;
  officeFacts += 1;
  const random = Uint8Array.from({ length: 10 }, (_, index) => (officeFacts >> (8 * (index % 4))) & 255);
  return { ...head, id: uuidV7(0, random), property, station: null, kind, body };
}

function bodyOf(index: number) {
  return {
    name: `House ${index}`,
    branch: `branch-${index % 8}`,
    address: {
      street: `${index} Pretend Lane`,
      town: `Invented Town ${index % 40}`,
      state: 'ZZ',
      postcode: '00000',
    },
    customer: { name: `Household ${index}`, email: null, phone: null },
    timeZone: 'America/New_York',
    profile: DEMO_PROFILE.id,
    agreement: null,
    accessNotes: '',
    hazards: '',
    position: null,
  };
}

function seconds(start: number): string {
  return ((performance.now() - start) / 1000).toFixed(0);
}
