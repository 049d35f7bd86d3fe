import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing } from '../support/chromium.ts';
import { EMAIL, type Firm, PASSWORD, startFirm } from './support/firm.ts';
import { buildApp, buildHarness, buildHarnessInto } from './support/harness.ts';
import { type KillableChromium, launchKillable } from './support/killable.ts';

const HOUSE = 'House of the faulty line (invented)';

describe.skipIf(isChromiumMissing())('the app that was shipped', () => {
  let app: Awaited<ReturnType<typeof buildApp>>;
  let firm: Firm;
  let profile: string;
  let chromium: KillableChromium | undefined;
  const complaints: string[] = [];
  beforeAll(async () => {
    app = await buildApp();
    firm = await startFirm(app.folder);
    profile = await mkdtemp(join(tmpdir(), 'sillwatch-profile-'));
    chromium = await launchKillable(profile, firm.url);
    listen(chromium.page, complaints);
  });
  afterAll(async () => {
    await chromium?.kill();
    await firm?.end();
    await app?.remove();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  });

  it('can be installed: manifest without a fault, icons of their sizes, a worker that controls the page', async () => {
    if (chromium === undefined) throw new Error('no Chromium');
    const { page, context } = chromium;
    await signIn(page);
    await page.goto(`${firm.url}/field`);
    await page.getByText(HOUSE).first().waitFor();
    await expect.poll(() => isControlled(page)).toBe(true);
    const devtools = await context.newCDPSession(page);
    const manifest = await devtools.send('Page.getAppManifest');
    expect(manifest.errors).toEqual([]);
    const said = JSON.parse(manifest.data ?? '{}');
    expect(new URL(said.start_url, manifest.url).pathname).toBe('/field');
    // The browser's own list of what stands in the way of an installation.
    const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
    expect(installabilityErrors).toEqual([]);
    for (const { src, sizes, type } of said.icons as { src: string; sizes: string; type: string }[]) {
      const answer = await page.request.get(new URL(src, manifest.url).href);
      expect(answer.headers()['content-type']).toContain(type);
      if (type === 'image/png') expect(pngSize(await answer.body())).toBe(sizes);
    }
    expect(complaints).toEqual([]);
  });

  it('starts from nothing without a network, on what this phone holds', async () => {
    if (chromium === undefined) throw new Error('no Chromium');
    await chromium.kill();
    await firm.stop();
    chromium = await launchKillable(profile, `${firm.url}/field`);
    await chromium.page.getByText(HOUSE).first().waitFor({ timeout: 20_000 });
    // Any address of the yard, typed or kept as a bookmark.
    await chromium.page.goto(`${firm.url}/field/phone`);
    await chromium.page.getByRole('heading', { level: 1 }).waitFor();
    await firm.start();
  });

  it('keeps what the server says about scripts: none inline, none from elsewhere', async () => {
    if (chromium === undefined) throw new Error('no Chromium');
    const { page } = chromium;
    await page.goto(`${firm.url}/field`);
    await page.getByText(HOUSE).first().waitFor();
    const ran = await page.evaluate(async () => {
      const global = globalThis as { inlineRan?: boolean };
      const { document } = globalThis as unknown as {
        document: {
          createElement(name: string): { textContent: string };
          head: { append(element: unknown): void };
        };
      };
      const script = document.createElement('script');
      script.textContent = 'globalThis.inlineRan = true';
      document.head.append(script);
      return global.inlineRan ?? false;
    });
    expect(ran).toBe(false);
    const html = await readFile(join(app.folder, 'index.html'), 'utf8');
    expect(html).not.toMatch(/<script(?![^>]*\bsrc=)/);
  });
});

describe.skipIf(isChromiumMissing())('a new version', () => {
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

  it('waits until it is asked for, then takes over every tab, and the half-done screen is there again', async () => {
    chromium = await launchKillable(profile, `${firm.url}/field`);
    const { page, context } = chromium;
    await signIn(page);
    await page.evaluate(async () => {
      const { field } = globalThis as unknown as { field: Field };
      field.store = await field.adoptPerson(await (await fetch('/api/me')).json());
      await field.workerReady();
      await field.store.saveDraft('station 7', { answered: ['none'], note: 'half a sen' });
    });
    await expect.poll(() => isControlled(page)).toBe(true);
    const other = await context.newPage();
    await other.goto(`${firm.url}/field`);
    expect(await versionOf(other)).toBe('first');
    await other.evaluate(async () => {
      const { field } = globalThis as unknown as { field: Field };
      field.store = await field.openFieldStore();
    });

    await firm.stop();
    await buildHarnessInto(harness.folder, 'second');
    await firm.start();
    const isReady = () =>
      page.evaluate(() => (globalThis as unknown as { field: Field }).field.store?.update.get().ready);
    expect(await isReady()).toBe(false);
    await page.evaluate(() => (globalThis as unknown as { field: Field }).field.lookForUpdate());
    await expect.poll(isReady).toBe(true);
    // Nothing changes under somebody's hands, not even over a reload.
    expect(await versionOf(page)).toBe('first');
    await other.reload();
    expect(await versionOf(other)).toBe('first');
    await other.evaluate(async () => {
      const { field } = globalThis as unknown as { field: Field };
      field.store = await field.openFieldStore();
    });

    await page.evaluate(() => {
      void (globalThis as unknown as { field: Field }).field.store?.applyUpdate();
    });
    // A page that the older worker served in the last instant finds that out when it opens its store, as the app does on every load.
    const openedVersion = (tab: Page): Promise<string> =>
      tab
        .evaluate(async () => {
          const { field } = globalThis as unknown as { field: Field };
          field.store ??= await field.openFieldStore();
          return field.version;
        })
        .catch(() => '');
    for (const tab of [page, other]) await expect.poll(() => openedVersion(tab)).toBe('second');
    const draft = await page.evaluate(async () => {
      const { field } = globalThis as unknown as { field: Field };
      return (await field.openFieldStore())?.readDraft('station 7');
    });
    expect(draft).toEqual({ answered: ['none'], note: 'half a sen' });
    const belong = await page.evaluate(async () => {
      const { field, document } = globalThis as unknown as {
        field: Field;
        document: { querySelector(selector: string): { readonly src: string } };
      };
      const { src } = document.querySelector('script[type="module"][src]');
      return [await field.isOfBuild(src), await field.isOfBuild(src.replace(/\.js$/, '-older.js'))];
    });
    expect(belong).toEqual([true, false]);
    // The older build's files are gone with it.
    const caches = await page.evaluate(() => {
      const global = globalThis as unknown as { caches: { keys(): Promise<readonly string[]> } };
      return global.caches.keys();
    });
    expect(caches.length).toBe(1);
  });
});

/** As the page has it (harness/main.js); only what is used here. */
interface Store {
  readonly update: { get(): { readonly ready: boolean } };
  saveDraft(key: string, value: unknown): Promise<void>;
  readDraft(key: string): Promise<unknown>;
  applyUpdate(): Promise<void>;
}
interface Field {
  readonly version: string;
  store: Store | undefined;
  adoptPerson(me: unknown): Promise<Store>;
  openFieldStore(): Promise<Store | undefined>;
  workerReady(): Promise<boolean>;
  lookForUpdate(): Promise<unknown>;
  isOfBuild(url: string): Promise<boolean>;
}

function versionOf(page: Page): Promise<string> {
  return page.evaluate(() => (globalThis as unknown as { field: Field }).field.version);
}

function isControlled(page: Page): Promise<boolean> {
  return page.evaluate(() => {
    const { navigator } = globalThis as unknown as { navigator: { serviceWorker: { controller: unknown } } };
    return navigator.serviceWorker.controller !== null;
  });
}

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

function listen(page: Page, complaints: string[]): void {
  page.on('console', (message) => {
    // Asked before anybody is signed in.
    if (message.type() === 'error' && !message.text().includes('401')) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
}

/** Width and height as the header of a PNG has them (ISO/IEC 15948, IHDR). */
function pngSize(bytes: Buffer): string {
  return `${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`;
}
