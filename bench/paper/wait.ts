/**
 * How long small requests wait while the application record of a firm is written as a PDF: a property's due work and a
 * phone's question for news, in turn, one every 20 ms whether or not the last was answered. From the moment each was meant to go.
 * The PDF is checked outside the timed part. Usage: node bench/paper/wait.ts [applications ...]
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const BENCH_FIRM = { id: 'bench-firm', name: 'Invented bench firm' };
export const BENCH_ACCOUNT = {
  name: 'Invented',
  email: 'owner@example.com',
  role: 'owner',
  branch: null,
  licenceNumber: null,
  certificationNumber: null,
  password: 'bench password, invented',
} as const;
const RUNS = 5;
const EVERY_MS = 20;
const QUIET_MS = 3000;
const DUE = '/api/due?property=property-0&asOf=2026-03-04&withinDays=100';

if (import.meta.main) {
  const counts = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [1000, 5000];
  for (const count of counts) await measure(count);
}

async function measure(count: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'sillwatch-bench-'));
  const child = spawn(
    process.execPath,
    [fileURLToPath(new URL('waitServer.ts', import.meta.url)), folder, String(count)],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  );
  try {
    const [line] = await once(child.stdout, 'data');
    const url = String(line).trim();
    const send = await signedIn(url);
    await record(send, count);
    const quiet = await waits(send, new Promise((resolve) => setTimeout(resolve, QUIET_MS)));
    report(`${count} applications, nothing written`, quiet);
    const busy: number[] = [];
    const took: number[] = [];
    for (let run = 0; run < RUNS; run += 1) {
      const start = performance.now();
      busy.push(...(await waits(send, record(send, count))));
      took.push(performance.now() - start);
    }
    report(`${count} applications being written (${medianOf(took).toFixed(0)} ms)`, busy);
  } finally {
    child.kill('SIGTERM');
    await once(child, 'exit');
    rmSync(folder, { recursive: true, force: true });
  }
}

type Send = (path: string, body?: unknown) => Promise<Response>;

async function signedIn(url: string): Promise<Send> {
  let cookie = '';
  const send: Send = async (path, body) => {
    const init: RequestInit =
      body === undefined
        ? { headers: { cookie } }
        : {
            method: 'POST',
            headers: { cookie, origin: url, 'content-type': 'application/json' },
            body: JSON.stringify(body),
          };
    const answer = await fetch(url + path, init);
    if (answer.status !== 200) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
    return answer;
  };
  const { email, password } = BENCH_ACCOUNT;
  const answer = await send('/api/auth/sign-in', { email, password });
  cookie = answer.headers
    .getSetCookie()
    .map((one) => one.split(';')[0])
    .join('; ');
  return send;
}

async function record(send: Send, count: number): Promise<void> {
  const answer = await send('/api/reports/applications?format=pdf');
  const bytes = Buffer.from(await answer.arrayBuffer());
  const pages = bytes.toString('latin1').match(/\/Type \/Page\b/g)?.length ?? 0;
  if (pages < count / 10) throw new Error(`${count} applications on ${pages} pages`);
}

/** Milliseconds of each small request sent until `end` is over. */
async function waits(send: Send, end: Promise<unknown>): Promise<readonly number[]> {
  let isOver = false;
  const over = end.finally(() => {
    isOver = true;
  });
  const sent: Promise<number>[] = [];
  const start = performance.now();
  for (let count = 0; !isOver; count += 1) {
    const due = start + count * EVERY_MS;
    const early = due - performance.now();
    if (early > 0) await new Promise((resolve) => setTimeout(resolve, early));
    sent.push(smallRequest(send, count).then(() => performance.now() - due));
  }
  await over;
  return Promise.all(sent);
}

/** A connection that the server let go of while it was silent is asked again, as phones do; the wait goes on. */
async function smallRequest(send: Send, count: number): Promise<void> {
  const path = count % 2 === 0 ? DUE : '/api/sync/pull';
  for (let attempt = 0; attempt < 5; attempt += 1) {
    try {
      await (await send(path)).text();
      return;
    } catch (error) {
      if (!(error instanceof TypeError)) throw error;
    }
  }
  throw new Error(`${path}: not answered in five attempts`);
}

function report(name: string, times: readonly number[]): void {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
  console.log(
    `${name}: ${times.length} small requests, median ${at(0.5).toFixed(0)} ms, p95 ${at(0.95).toFixed(0)} ms, slowest ${at(1).toFixed(0)} ms`,
  );
}

function medianOf(times: readonly number[]): number {
  return times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)] ?? 0;
}
