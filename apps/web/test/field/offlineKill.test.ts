import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing } from '../support/chromium.ts';
import { EMAIL, type Firm, PASSWORD, startFirm } from './support/firm.ts';
import { buildHarness } from './support/harness.ts';
import { type KillableChromium, launchKillable } from './support/killable.ts';
import { createRandom } from './support/phone.ts';
import { PROPERTY, STATIONS, seenBody, stationOf } from './support/yard.ts';

const SEED = Number(process.env['SEED'] ?? Math.floor(Math.random() * 1_000_000));
/** Kills while recording, and while sending. */
const KILLS = Number(process.env['KILLS'] ?? 8);

/** As the page has it (harness/main.js); only what is used here. */
interface PageStore {
  readonly sync: { get(): { readonly waiting: number; readonly problem: string | null } };
  property(property: string): { get(): { readonly facts: readonly { readonly id: string }[] } | undefined };
  record(kind: string, property: string, station: string, body: unknown): Promise<{ readonly id: string }>;
  syncNow(): Promise<void>;
}
interface PageField {
  adoptPerson(me: unknown): Promise<PageStore>;
  openFieldStore(): Promise<PageStore | undefined>;
  store: PageStore | undefined;
  workerReady(): Promise<boolean>;
  isControlled(): boolean;
  takePhoto(width: number, height: number): Promise<{ readonly bytes: number }>;
}
declare global {
  var field: PageField;
}

describe.skipIf(isChromiumMissing())('a phone that is killed', () => {
  let harness: Awaited<ReturnType<typeof buildHarness>>;
  let firm: Firm;
  let profile: string;
  let chromium: KillableChromium | undefined;
  beforeAll(async () => {
    harness = await buildHarness();
    firm = await startFirm(harness.folder);
    profile = await mkdtemp(join(tmpdir(), 'sillwatch-profile-'));
  });
  afterAll(async () => {
    await chromium?.kill();
    await firm?.end();
    await harness?.remove();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  });

  it('at random moments, offline, loses no record of 24 stations and sends each once', async () => {
    process.stdout.write(`seed ${SEED} (again: SEED=${SEED})\n`);
    const random = createRandom(SEED);
    chromium = await launchKillable(profile, `${firm.url}/field`);
    await signIn(chromium.page);
    await chromium.page.evaluate(async () => {
      const me = await (await fetch('/api/me')).json();
      globalThis.field.store = await globalThis.field.adoptPerson(me);
      await globalThis.field.store.syncNow();
      await globalThis.field.workerReady();
    });
    await expect.poll(() => chromium?.page.evaluate(() => globalThis.field.isControlled())).toBe(true);
    expect(await factsOf(chromium.page)).toBe(2 + STATIONS);

    await firm.stop();
    const confirmed = new Map<string, string>();
    const killAt = new Set(pickSome(KILLS, random));
    let lost = 0;
    for (let number = 1; number <= STATIONS; number += 1) {
      const station = stationOf(number);
      const { page } = chromium;
      const recording = page.evaluate(
        async ({ property, station: at, body }) =>
          (await globalThis.field.store?.record('station seen', property, at, body))?.id,
        { property: PROPERTY, station, body: seenBody('visit of the kill test', station) },
      );
      if (killAt.has(number)) {
        recording.catch(() => {});
        await new Promise((resolve) => setTimeout(resolve, random() * 25));
        await chromium.kill();
        const id = await recording.catch(() => undefined);
        if (id === undefined) lost += 1;
        else confirmed.set(id, station);
        chromium = await reopen(profile, firm.url);
        // What was confirmed is there before anything is sent; what was not is served again.
        const here = await idsOf(chromium.page);
        for (const known of confirmed.keys()) expect(here).toContain(known);
        if (id === undefined) number -= 1;
        if (id === undefined) killAt.delete(number + 1);
        continue;
      }
      const id = await recording;
      if (id === undefined) throw new Error('nothing was recorded');
      confirmed.set(id, station);
    }
    expect(confirmed.size).toBe(STATIONS);

    await firm.start();
    await signIn(chromium.page);
    for (let kill = 0; kill < 2; kill += 1) {
      chromium.page.evaluate(() => globalThis.field.store?.syncNow()).catch(() => {});
      await new Promise((resolve) => setTimeout(resolve, random() * 120));
      await chromium.kill();
      chromium = await reopen(profile, firm.url);
    }
    await signIn(chromium.page);
    await expect
      .poll(
        () =>
          chromium?.page.evaluate(async () => {
            await globalThis.field.store?.syncNow();
            return globalThis.field.store?.sync.get();
          }),
        { timeout: 30_000 },
      )
      .toMatchObject({ waiting: 0, problem: null });

    const stored = (await firm.ledger().listFacts(firm.firm)).filter(({ kind }) => kind === 'station seen');
    const ids = stored.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [id, station] of confirmed)
      expect(stored.filter((fact) => fact.id === id).map((fact) => fact.station)).toEqual([station]);
    // A record that was on the disk when the kill came, before the screen could say so, is sent as well.
    expect(stored.length).toBeLessThanOrEqual(STATIONS + lost);
    expect(stored.map(({ seq }) => seq).toSorted((a, b) => a - b)).toEqual(ids.map((_, index) => index + 1));
    expect(await firm.ledger().verify(firm.firm)).toMatchObject({ sound: true });
    process.stdout.write(
      `kills ${KILLS} recording (${lost} before the answer), 2 sending; stored ${ids.length}\n`,
    );
  });

  it('in two tabs gives each record its own number, sends from one and shows in both', async () => {
    if (chromium === undefined) throw new Error('the first test did not run');
    const { context, page: one } = chromium;
    const before = (await firm.ledger().listFacts(firm.firm)).length;
    const two = await context.newPage();
    await two.goto(`${firm.url}/field`);
    await openStore(two);
    await firm.stop();
    const recordMany = (page: Page, from: number) =>
      page.evaluate(
        async ({ property, station, bodies, first }) =>
          Promise.all(
            bodies.map((body, index) =>
              globalThis.field.store?.record('station seen', property, `${station}${first + index}`, body),
            ),
          ),
        {
          property: PROPERTY,
          station: stationOf(0).slice(0, -1),
          bodies: Array.from({ length: 12 }, () => seenBody('visit in two tabs')),
          first: from,
        },
      );
    const made = (await Promise.all([recordMany(one, 1), recordMany(two, 13)])).flat();
    expect(made.length).toBe(24);
    for (const page of [one, two])
      await expect
        .poll(() => page.evaluate(() => globalThis.field.store?.sync.get().waiting), { timeout: 10_000 })
        .toBe(24);
    await firm.start();
    await Promise.all(
      [one, two].map(async (page) => {
        await signIn(page);
        await page.evaluate(() => globalThis.field.store?.syncNow());
      }),
    );
    for (const page of [one, two])
      await expect
        .poll(() => page.evaluate(() => globalThis.field.store?.sync.get().waiting), { timeout: 20_000 })
        .toBe(0);
    const after = await firm.ledger().listFacts(firm.firm);
    expect(after.length).toBe(before + 24);
    const seqs = after.filter(({ by }) => by === firm.person).map(({ seq }) => seq);
    expect(seqs.toSorted((a, b) => a - b)).toEqual(seqs.map((_, index) => index + 1));
    const counts = await Promise.all([one, two].map(factsOf));
    expect(counts[0]).toBe(counts[1]);
  });

  it('makes a picture small, sends it by its content and shows its thumbnail', async () => {
    if (chromium === undefined) throw new Error('the first test did not run');
    await signIn(chromium.page);
    const photo = await chromium.page.evaluate(() => globalThis.field.takePhoto(4000, 3000));
    expect(photo).toMatchObject({
      status: 200,
      mediaType: 'image/jpeg',
      whole: [1600, 1200],
      thumbnail: [240, 180],
      isShown: true,
      waiting: 0,
    });
    expect(photo.bytes).toBeLessThan(600_000);
  });
});

/** Cookies are kept on the disk late; a session that a kill took with it is begun again, as a person would. */
async function signIn(page: Page): Promise<void> {
  const status = await page.evaluate(
    async (body) =>
      (
        await fetch('/api/auth/sign-in', {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify(body),
        })
      ).status,
    { email: EMAIL, password: PASSWORD },
  );
  expect(status).toBe(200);
}

async function reopen(profile: string, url: string): Promise<KillableChromium> {
  const chromium = await launchKillable(profile, `${url}/field`);
  await openStore(chromium.page);
  return chromium;
}

async function openStore(page: Page): Promise<void> {
  await page.evaluate(async () => {
    globalThis.field.store = await globalThis.field.openFieldStore();
    if (globalThis.field.store === undefined) throw new Error('nobody is known on this phone');
  });
}

async function idsOf(page: Page): Promise<readonly string[]> {
  return page.evaluate(async (property) => {
    const watched = globalThis.field.store?.property(property);
    for (let tries = 0; tries < 200 && watched?.get() === undefined; tries += 1)
      await new Promise((resolve) => setTimeout(resolve, 20));
    return watched?.get()?.facts.map(({ id }) => id) ?? [];
  }, PROPERTY);
}

async function factsOf(page: Page): Promise<number> {
  return (await idsOf(page)).length;
}

/** Some of the stations, each once. */
function pickSome(count: number, random: () => number): readonly number[] {
  const numbers = Array.from({ length: STATIONS }, (_, index) => index + 1);
  return numbers
    .map((number) => ({ number, key: random() }))
    .sort((a, b) => a.key - b.key)
    .slice(0, count)
    .map(({ number }) => number);
}
