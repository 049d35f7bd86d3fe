/**
 * How long the office waits for loads, stock, the book and the figures of a large firm while phones go on recording: 20,000 properties, 400,000
 * stations, 4 million facts. Goal: 95 % under 300 ms, whatever the age of the answer, which is reported beside it.
 * `node bench/server/figures.ts [properties] [database] [seconds]`: a database that exists already is used as it is (see desk.ts).
 */
import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startServer } from '@sillwatch/server';
import type { AnyFact } from '@sillwatch/trade';
import { pino } from 'pino';
import { FIRM, fillDeskFirm, STATIONS, seedOwner } from './deskFirm.ts';
import { createOffice, turnClockBack } from './deskOffice.ts';

const PROPERTIES = Number(process.argv[2] ?? 20_000);
const databaseUrl = process.argv[3] ?? join(mkdtempSync(join(tmpdir(), 'sillwatch-figures-')), 'ledger.db');
const SECONDS = Number(process.argv[4] ?? 300);
/** One technician's house every so often: fifty technicians who each record a station in twenty seconds, and some. */
const HOUSE_EVERY_MS = 4000;
const STOCK_EVERY = 3;
/** Between two questions of the office; each in turn. */
const ASK_EVERY_MS = 120;
const LONGEST_FIRST_ANSWER_MS = 15 * 60_000;

const today = turnClockBack();
const isFilled = databaseUrl.startsWith('postgres') || existsSync(databaseUrl);
const log = pino({ level: 'error' });
const server = await startServer({
  port: 0,
  databaseUrl,
  dataFolder: tmpdir(),
  webFolder: 'nowhere',
  log,
  openAs: 'owner',
  limits: { requestsPerMinute: 1_000_000, signIns: 1000 },
});
const office = createOffice(server);

interface Asked {
  readonly path: string;
  readonly times: number[];
  readonly ages: number[];
  readonly behind: number[];
}

try {
  if (!isFilled) await fillDeskFirm(server, PROPERTIES);
  await seedOwner(server);
  await office.setUp(today);
  const head = await server.ledger.findHead(FIRM.id);
  console.log(`${PROPERTIES} properties, ${PROPERTIES * STATIONS} stations, ${head.seq} facts`);
  const asked = addresses().map((path): Asked => ({ path, times: [], ages: [], behind: [] }));

  const begun = performance.now();
  for (const { path } of asked) {
    const started = performance.now();
    while ((await ask(path)).state !== 'done') {
      if (performance.now() - started > LONGEST_FIRST_ANSWER_MS) throw new Error(`${path} never came`);
      await sleep(500);
    }
    console.log(`first ${path}: ${((performance.now() - started) / 1000).toFixed(1)} s`);
  }
  console.log(
    `first answers to all: ${((performance.now() - begun) / 1000).toFixed(0)} s after the first question`,
  );

  let isOpen = true;
  const phones = record(() => isOpen);
  for (let turn = 0; performance.now() < begun + SECONDS * 1000; turn += 1) {
    const one = asked[turn % asked.length];
    if (one === undefined) break;
    const started = performance.now();
    const answer = await ask(one.path);
    one.times.push(performance.now() - started);
    if (answer.state !== 'done' || answer.reckonedAt === null)
      throw new Error(`${one.path}: ${answer.state}`);
    one.ages.push((Date.now() - Date.parse(answer.reckonedAt)) / 1000);
    one.behind.push(answer.behind);
    await sleep(ASK_EVERY_MS);
  }
  isOpen = false;
  const recorded = await phones;
  console.log(
    `${recorded.facts} facts came meanwhile; a house's batch waited ${spread(recorded.times, 'ms')}`,
  );
  console.log('| asked | answered in | age of the answer | entries behind |');
  console.log('| --- | --- | --- | --- |');
  for (const { path, times, ages, behind } of asked)
    console.log(`| ${path} | ${spread(times, 'ms')} | ${spread(ages, 's')} | ${spread(behind, '')} |`);
  const all = asked.flatMap(({ times }) => times);
  console.log(`all ${all.length}: ${spread(all, 'ms')}`);
  for (const { path } of asked) await settle(path);
  console.log(
    `every answer caught up; memory ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MiB at most`,
  );
} finally {
  await server.stop();
}

function addresses(): readonly string[] {
  const figures = ['book', 'efficacy', 'risk', 'minutes', 'bait', 'criteria'];
  return [
    '/api/load?branch=branch-0',
    '/api/load',
    '/api/load?branch=branch-0&chance=1',
    `/api/load?person=driver-0-0&day=${today}`,
    '/api/stock?branch=branch-0',
    '/api/stock?branch=branch-1',
    ...figures.map((name) => `/api/figures/${name}`),
    ...figures.slice(0, 3).map((name) => `/api/figures/${name}?branch=branch-0`),
  ];
}

async function ask(
  path: string,
): Promise<{ readonly state: string; readonly reckonedAt: string | null; readonly behind: number }> {
  const answer = await fetch(`${server.url}${path}`);
  const text = await answer.text();
  if (answer.status !== 200) throw new Error(`${path}: ${answer.status} ${text.slice(0, 300)}`);
  const { state, reckonedAt, behind } = JSON.parse(text);
  return { state, reckonedAt, behind };
}

/** With nothing more recorded each answer is as of now in the end. */
async function settle(path: string): Promise<void> {
  const started = performance.now();
  while ((await ask(path)).behind > 0) {
    if (performance.now() - started > LONGEST_FIRST_ANSWER_MS) throw new Error(`${path} never caught up`);
    await sleep(1000);
  }
}

async function record(goesOn: () => boolean) {
  const times: number[] = [];
  let facts = 0;
  for (let house = 0; goesOn(); house += 1) {
    const batch = visitTo(`house-${(house * 7919) % PROPERTIES}`);
    if (house % STOCK_EVERY === 0)
      batch.push(
        office.fact('stock counted', {
          place: 'branch-0',
          part: 'base-monitor',
          count: 100 + house,
          lot: null,
          usableUntil: null,
        }),
      );
    const started = performance.now();
    await office.append(batch);
    times.push(performance.now() - started);
    facts += batch.length;
    await sleep(HOUSE_EVERY_MS);
  }
  return { times, facts };
}

function visitTo(property: string): AnyFact[] {
  return Array.from({ length: STATIONS }, (_, n) =>
    office.fact(
      'station seen',
      {
        visit: `${property}-${today}`,
        task: 'check',
        finding: {
          reach: 'opened',
          termites: n === 3 ? 'live on monitor' : 'none',
          baitLeft: 'no bait',
          monitor: 'sound',
          housing: 'sound',
          occupants: 'none',
        },
        work: {
          yearlyServiceDone: false,
          baseMonitorLifted: false,
          cleanedOut: false,
          fitted: [],
          withdrawn: [],
          partsUsed: n === 5 ? { 'top-monitor': 1 } : {},
          minutes: 2,
        },
        application: null,
        note: '',
        photos: [],
      },
      property,
      `${property}-s${n + 1}`,
    ),
  );
}

function spread(values: readonly number[], unit: string): string {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number): string =>
    (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN).toFixed(0);
  return `${at(0.5)} ${unit}, 95 % ${at(0.95)} ${unit}, most ${at(1)} ${unit}`
    .replaceAll('  ', ' ')
    .replaceAll(' ,', ',');
}

function sleep(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
