import { readdirSync, readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, SIZES } from '../support/chromium.ts';
import { EMAIL, type Firm, PASSWORD, startFirm } from './support/firm.ts';
import { buildApp } from './support/harness.ts';

const STORIES = fileURLToPath(new URL('../../../../packages/trade/stories/', import.meta.url));
/** Compressed script for the yard's first load, bytes. */
const MOST_BYTES = 200_000;

declare global {
  var playStories: (
    text: string,
    source: string,
  ) => { readonly told: number; readonly failed: readonly string[] };
}

describe.skipIf(isChromiumMissing())('what a phone is given', () => {
  let app: Awaited<ReturnType<typeof buildApp>>;
  let firm: Firm;
  let browser: Browser;
  let stories: string;

  beforeAll(async () => {
    stories = await mkdtemp(join(tmpdir(), 'sillwatch-stories-'));
    await build({
      configFile: false,
      root: fileURLToPath(new URL('./storyHarness', import.meta.url)),
      logLevel: 'error',
      build: { outDir: stories, emptyOutDir: true, target: ['chrome123', 'firefox121', 'safari17.5'] },
    });
    app = await buildApp();
    [firm, browser] = await Promise.all([startFirm(app.folder), launchChromium()]);
  });
  afterAll(async () => {
    await browser?.close();
    await firm?.end();
    await app?.remove();
    await rm(stories, { recursive: true, force: true });
  });

  it('plays every story of the trade as the server and the command line do', async () => {
    const page = await browser.newPage();
    await page.route('**/*', (route) => {
      const { pathname } = new URL(route.request().url());
      return route.fulfill({ path: join(stories, pathname === '/' ? 'index.html' : pathname) });
    });
    await page.goto('http://stories.test/');
    await page.waitForFunction('globalThis.playStories !== undefined');
    const files = readdirSync(STORIES).filter((name) => name.endsWith('.story'));
    let told = 0;
    for (const name of files) {
      const played = await page.evaluate(([text, source]) => globalThis.playStories(text, source), [
        readFileSync(join(STORIES, name), 'utf8'),
        name,
      ] as const);
      expect(played.failed, name).toEqual([]);
      told += played.told;
    }
    expect(told).toBeGreaterThanOrEqual(25);
    await page.close();
  });

  it('is under 200 kB of compressed script for the yard, with neither the desk, the reader nor another language', async () => {
    const context = await browser.newContext({
      viewport: SIZES.phone,
      locale: 'en-US',
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    const scripts = new Map<string, number>();
    page.on('response', async (response) => {
      const { pathname } = new URL(response.url());
      if (pathname.endsWith('.js'))
        scripts.set(pathname, brotliCompressSync(readFileSync(join(app.folder, pathname))).length);
    });
    await page.goto(`${firm.url}/field`);
    await signIn(page);
    await page.locator('.stop').first().waitFor();
    await page.waitForLoadState('networkidle');
    const bytes = [...scripts.values()].reduce((sum, one) => sum + one, 0);
    process.stdout.write(
      `yard: ${scripts.size} scripts, ${bytes} bytes in Brotli, as the server sends them, sign-in included\n`,
    );
    expect(scripts.size).toBeGreaterThan(3);
    expect(bytes).toBeLessThan(MOST_BYTES);
    for (const other of [/deskRoot/, /jsqr/i, /\/es-/, /practiceApp/, /scanPage/])
      expect([...scripts.keys()].filter((path) => other.test(path))).toEqual([]);
    await context.close();
  });

  it('signs in again without leaving the yard when a session has ended, and sends by itself', async () => {
    const context = await browser.newContext({
      viewport: SIZES.phone,
      locale: 'en-US',
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    await page.goto(`${firm.url}/field`);
    await signIn(page);
    await page.locator('.stop').first().waitFor();
    // Twice: who was signed in the first time must not be taken for signed in the second.
    for (let time = 0; time < 2; time += 1) {
      await context.clearCookies();
      await page.locator('.yard-places a').last().click();
      await page.getByRole('button', { name: 'Send and fetch now' }).click();
      await page.getByText('Sign in again to send.').waitFor();
      await page.getByRole('link', { name: 'Sign in' }).click();
      await signIn(page);
      await page.waitForURL(/\/field\/phone$/);
      await page.getByText('Sign in again to send.').waitFor({ state: 'detached' });
      await page.locator('.yard-places a').first().click();
      await page.locator('.stop').first().waitFor();
    }
    await context.close();
  });

  it('sets a lock only by a PIN typed twice alike, and the locked screen says what can be done without it', async () => {
    const context = await browser.newContext({
      viewport: SIZES.phone,
      locale: 'en-US',
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    await openLock(page);
    await page.getByLabel('PIN, 4 to 12 digits').fill('4711');
    await page.getByLabel('The same PIN again').fill('4717');
    await page.getByRole('button', { name: 'Set the lock' }).click();
    await page.getByText('The two PINs differ.').waitFor();
    expect(await page.getByRole('button', { name: 'Lock now' }).count()).toBe(0);
    await page.getByLabel('The same PIN again').fill('4711');
    await page.getByRole('button', { name: 'Set the lock' }).click();
    await page.getByRole('button', { name: 'Lock now' }).click();
    await page.getByRole('heading', { name: 'Locked' }).waitFor();
    // What waits is in sight, and nobody is left without a way on.
    await page.getByText('Nothing to send').waitFor();
    await page.getByText('PIN forgotten?').click();
    await page.getByText('Do not clear this app’s data').waitFor();
    await page.getByLabel('PIN, 4 to 12 digits').fill('4711');
    await page.getByRole('button', { name: 'Unlock' }).click();
    await page.locator('.yard-places').waitFor();
    await context.close();
  });

  it('takes the lock off for its own technician alone, by the password, where the PIN is forgotten', async () => {
    const other = 'ben@example.com';
    await firm.addPerson('Ben (invented)', other);
    const context = await browser.newContext({
      viewport: SIZES.phone,
      locale: 'en-US',
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    const forgetPin = async () => {
      await page.getByText('PIN forgotten?').click();
      await page.getByRole('button', { name: 'Sign in with the password' }).click();
    };
    await openLock(page);
    await page.getByLabel('PIN, 4 to 12 digits').fill('4711');
    await page.getByLabel('The same PIN again').fill('4711');
    await page.getByRole('button', { name: 'Set the lock' }).click();
    await page.getByText('The lock is set.').waitFor();
    await page.reload();

    // The session is still open, and does not count: the password is asked for.
    await forgetPin();
    await page.getByText('Signing in takes the lock off').waitFor();
    await page.getByRole('button', { name: 'Back to the PIN' }).click();
    await page.getByLabel('PIN, 4 to 12 digits').waitFor();
    await forgetPin();
    await signIn(page, EMAIL, 'not this one');
    await page.getByText('E-mail and password do not go together.').waitFor();

    // A colleague gets the colleague's own yard; this one stays locked.
    await signIn(page, other);
    await page.getByText('Ben (invented), Invented Timber Guard').waitFor();
    await context.clearCookies();
    await page.getByRole('button', { name: 'Send and fetch now' }).click();
    await page.getByRole('link', { name: 'Sign in' }).click();
    await signIn(page);
    await page.getByRole('heading', { name: 'Locked' }).waitFor();

    await forgetPin();
    await signIn(page);
    await page.getByText('Ana (invented), Invented Timber Guard').waitFor();
    await page.reload();
    await page.getByText('Ana (invented), Invented Timber Guard').waitFor();
    await page.locator('summary', { hasText: 'Lock' }).click();
    await page.getByLabel('PIN, 4 to 12 digits').waitFor();
    expect(await page.getByLabel('Present PIN').count()).toBe(0);
    await context.close();
  });

  it('lets a trainee decide before the steps come, keeps it over a reload, and compares it without a line', async () => {
    const context = await browser.newContext({
      viewport: SIZES.phone,
      locale: 'en-US',
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    await page.goto(`${firm.url}/field/practice`);
    await page.getByRole('button', { name: 'Begin' }).click();
    await page.getByRole('button', { name: 'Gloves are on: begin' }).click();
    await page.goto(`${firm.url}/field/practice/p/practice-yard/s/practice-feeding`);
    await page.getByRole('button', { name: 'Live termites on bait' }).click();
    await page.locator('.ask .answer-button').nth(2).click();
    await page.getByRole('button', { name: 'All as it should be' }).click();
    await page.getByRole('heading', { name: 'What would you do here?' }).waitFor();
    expect(await page.locator('.step').count()).toBe(0);
    await page.getByRole('button', { name: 'Renew the monitors and clean out' }).click();
    await page.getByText('The rules say: Look only').waitFor();
    expect(await page.locator('.step').count()).toBeGreaterThan(2);
    await page.reload();
    await page.getByText('The rules say: Look only').waitFor();
    await context.setOffline(true);
    await page.getByRole('button', { name: 'Done as listed: record' }).click();
    await page.waitForURL((at) => !at.href.endsWith('practice-feeding'));
    await context.setOffline(false);
    await page.goto(`${firm.url}/field/practice/compare`);
    await page.getByText('0 of 1 first decisions as the rules say').waitFor();
    await page.getByText('1 of 1 as the rules say').waitFor();
    await page.goto(`${firm.url}/field/practice`);
    await page.getByRole('button', { name: 'Begin afresh' }).click();
    await page.getByRole('button', { name: 'Gloves are on: begin' }).waitFor();
    await context.close();
  });

  it('reads the code of a tag from a photo with the reader that comes along', async () => {
    const context = await browser.newContext({
      viewport: SIZES.phone,
      locale: 'en-US',
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    await page.goto(`${firm.url}/field/practice`);
    await page.getByRole('button', { name: 'Begin' }).click();
    await page.getByRole('button', { name: 'Gloves are on: begin' }).click();
    await page.getByRole('link', { name: 'Scan a tag' }).click();
    const { toBuffer } = await import('bwip-js/node');
    const picture = await toBuffer({
      bcid: 'qrcode',
      text: 'P-04',
      scale: 6,
      padding: 12,
      backgroundcolor: 'FFFFFF',
    });
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'tag.png', mimeType: 'image/png', buffer: picture });
    await page.waitForURL(/practice-feeding$/);
    await page.getByRole('link', { name: 'Back' }).click();
    await page.getByRole('link', { name: 'Scan a tag' }).click();
    await page.getByLabel('Code on the tag').fill('no-such-tag');
    await page.getByRole('button', { name: 'Find it' }).click();
    await page.getByText('No station here has the tag NO-SUCH-TAG.').waitFor();
    await context.close();
  });

  async function signIn(page: Page, email = EMAIL, password = PASSWORD): Promise<void> {
    await page.getByLabel('E-mail').fill(email);
    await page.getByLabel('Password').fill(password);
    await page.getByRole('button', { name: 'Sign in' }).click();
  }

  /** Signed in, on the page of the phone, where the lock is set. */
  async function openLock(page: Page): Promise<void> {
    await page.goto(`${firm.url}/field`);
    await signIn(page);
    await page.locator('.stop').first().waitFor();
    await page.locator('.yard-places a').last().click();
    await page.locator('summary', { hasText: 'Lock' }).click();
  }
});
