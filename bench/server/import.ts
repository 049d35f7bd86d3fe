/**
 * How long an office waits for a file of 100,000 stations over HTTP, and what a phone feels meanwhile (SQLite).
 * `node bench/server/import.ts [rows]`
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { seedAccount, startServer } from '@sillwatch/server';
import { type AnyFact, DEMO_PROFILE } from '@sillwatch/trade';
import { pino } from 'pino';

const ROWS = Number(process.argv[2] ?? 100_000);
const FIRM = { id: 'bench-firm', name: 'Invented bench firm' };
const folder = mkdtempSync(join(tmpdir(), 'sillwatch-bench-'));
const server = await startServer({
  port: 0,
  databaseUrl: join(folder, 'ledger.db'),
  webFolder: 'nowhere',
  log: pino({ level: 'silent' }),
  openAs: 'owner',
  limits: { requestsPerMinute: 1_000_000, signIns: 1000 },
});

try {
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
  await server.ledger.append(FIRM.id, firmFacts(), '2026-01-01T00:00:00.000Z');
  const file = new TextEncoder().encode(sheet());
  console.log(`${ROWS} rows, ${(file.length / 2 ** 20).toFixed(1)} MiB`);

  // The longest the server's loop stood still: what a phone that records meanwhile has to wait.
  const delay = monitorEventLoopDelay({ resolution: 10 });
  delay.enable();
  for (const query of ['&dryRun=true', '', '']) {
    const start = performance.now();
    const answer = await fetch(`${server.url}/api/imports?file=stations.csv${query}`, {
      method: 'POST',
      headers: { 'content-type': 'text/csv', origin: server.url },
      body: file,
    });
    const text = await answer.text();
    if (answer.status !== 200) throw new Error(`${answer.status}: ${text.slice(0, 500)}`);
    const { stored, planned }: { stored: number; planned: number } = JSON.parse(text);
    const seconds = (performance.now() - start) / 1000;
    const worst = delay.max / 1e9;
    delay.reset();
    const what = query !== '' ? 'dry run' : planned === 0 ? 'the same file again' : 'import';
    console.log(
      `${what}: ${seconds.toFixed(1)} s, planned ${planned}, stored ${stored}; the loop stood still ${worst.toFixed(1)} s at most`,
    );
  }
  delay.disable();
  const check = await server.ledger.verify(FIRM.id);
  const properties = Math.ceil(ROWS / 20);
  if (!check.sound || check.facts !== 2 + ROWS + 2 * properties)
    throw new Error(`unexpected ledger: ${JSON.stringify(check)}`);
  console.log(`${check.facts} facts, chain sound`);
} finally {
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
}

function sheet(): string {
  const lines = ['Account,Property,Street,City,State,Zip,Station,Model,Installed'];
  for (let index = 0; index < ROWS; index += 1) {
    const house = Math.floor(index / 20);
    lines.push(
      `A-${house},House ${house},${house} Pretend Lane,Nowhere Falls,FL,00000,${1 + (index % 20)},two-part,2025-03-04`,
    );
  }
  return `${lines.join('\n')}\n`;
}

function firmFacts(): readonly AnyFact[] {
  const head = (count: number) => ({
    id: `0194c2a0-0000-7000-8000-00000000000${count}`,
    firm: FIRM.id,
    property: null,
    station: null,
    by: 'owner',
    device: 'bench',
    seq: count,
    at: '2025-02-01T12:00:00+00:00',
    clock: '001738411200000.00000',
  });
  return [
    { ...head(1), kind: 'profile set', body: DEMO_PROFILE },
    {
      ...head(2),
      kind: 'branch added',
      body: { branch: 'main', name: 'Main', timeZone: 'America/New_York' },
    },
  ];
}
