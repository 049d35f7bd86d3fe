import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing } from '../support/chromium.ts';
import { EMAIL, type Firm, PASSWORD, startFirm } from './support/firm.ts';
import { buildApp } from './support/harness.ts';
import { type KillableChromium, launchKillable } from './support/killable.ts';
import { createRandom } from './support/phone.ts';
import { COUNT, SERVED, servedYard } from './support/servedYard.ts';

const SEED = Number(process.env['SEED'] ?? Math.floor(Math.random() * 1_000_000));
const KILLS = Number(process.env['KILLS'] ?? 5);

describe.skipIf(isChromiumMissing())('a phone that is killed in the hand', () => {
  let app: Awaited<ReturnType<typeof buildApp>>;
  let firm: Firm;
  let profile: string;
  let phone: KillableChromium | undefined;
  beforeAll(async () => {
    app = await buildApp();
    firm = await startFirm(app.folder);
    await firm
      .ledger()
      .append(firm.firm, servedYard(firm.firm, 'owner', Date.now()), new Date().toISOString());
    profile = await mkdtemp(join(tmpdir(), 'sillwatch-screens-'));
  });
  afterAll(async () => {
    await phone?.kill();
    await firm?.end();
    await app?.remove();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  });

  it('while a property of 24 stations is served without a signal: each station is on the server exactly once', async () => {
    process.stdout.write(`seed ${SEED} (again: SEED=${SEED})\n`);
    const random = createRandom(SEED);
    phone = await launchKillable(profile, `${firm.url}/field`);
    await signIn(phone.page);
    await phone.page.locator('.stop', { hasText: 'House of two dozen' }).waitFor();
    await phone.page.evaluate('navigator.serviceWorker.ready.then(() => true)');
    await phone.page.reload();
    await phone.page.locator('.stop-link').first().waitFor();
    await firm.stop();

    const killAt = new Set<number>();
    // A record may be on the disk before the screen moves on, so a kill can serve a station too: none is planned for the last few.
    while (killAt.size < KILLS) killAt.add(1 + Math.floor(random() * (COUNT - KILLS)));
    const confirmed = new Set<string>();
    let killed = 0;
    for (let served = 1; ; ) {
      const { page } = phone;
      await openProperty(page);
      const next = page.getByRole('link', { name: /^Next: station/ });
      const done = page.getByText('All that is owed here is done.');
      await next.or(done).first().waitFor();
      if (await done.isVisible()) break;
      await next.click();
      const record = page.getByRole('button', { name: 'Done as listed: record' });
      await page.locator('.ask').or(record).first().waitFor();
      const here = new URL(page.url()).pathname;
      // What the screen said was recorded is never asked for again.
      expect(confirmed).not.toContain(here);
      // A screen that was half done when the kill came is there again, answers and all.
      if (!(await record.isVisible())) await answerQuiet(page);
      const tap = record.click();
      const moved = page
        .waitForURL((url) => url.pathname !== here)
        .then(
          () => true,
          () => false,
        );
      if (killAt.delete(served)) {
        await Promise.race([tap.catch(() => {}), wait(random() * 120)]);
        await wait(random() * 60);
        await phone.kill();
        tap.catch(() => {});
        if (await moved) confirmed.add(here);
        killed += 1;
        phone = await launchKillable(profile, `${firm.url}/field`);
        continue;
      }
      await tap;
      expect(await moved).toBe(true);
      confirmed.add(here);
      served += 1;
    }
    expect(killed).toBe(KILLS);

    await firm.start();
    // A browser that was killed may have lost its session; the records wait for whoever signs in again.
    await phone.page.goto(`${firm.url}/field/sign-in`);
    await signIn(phone.page);
    const seen = async () =>
      (await firm.ledger().listFacts(firm.firm, { property: SERVED })).filter(
        ({ kind, by }) => kind === 'station seen' && by === firm.person,
      );
    await expect.poll(async () => (await seen()).length, { timeout: 30_000 }).toBe(COUNT);
    expect(new Set((await seen()).map(({ station }) => station)).size).toBe(COUNT);
    expect(await firm.ledger().verify(firm.firm)).toMatchObject({ sound: true });
    process.stdout.write(`kills ${killed}; confirmed by the screen ${confirmed.size} of ${COUNT}\n`);
  });
});

async function signIn(page: Page): Promise<void> {
  await page.getByLabel('E-mail').fill(EMAIL);
  await page.getByLabel('Password').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

async function openProperty(page: Page): Promise<void> {
  await page.evaluate(
    `history.pushState(null, '', '/field/p/${SERVED}'); dispatchEvent(new PopStateEvent('popstate'))`,
  );
  const begin = page.getByRole('button', { name: 'Gloves are on: begin' });
  await begin.or(page.locator('.yard-progress')).first().waitFor();
  if (await begin.isVisible()) await begin.click();
}

/** Nothing is found; where there is bait, half of it is left. */
async function answerQuiet(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'No termites' }).first().click();
  const half = page.getByRole('button', { name: '½' });
  const fine = page.getByRole('button', { name: 'All as it should be' });
  await half.or(fine).first().waitFor();
  if (await half.isVisible()) await half.click();
  await fine.first().click();
  await page.getByRole('button', { name: 'Done as listed: record' }).waitFor();
}

function wait(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
