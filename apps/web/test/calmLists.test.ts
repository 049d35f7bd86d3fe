import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { type RunningServer, seedAccount, startServer } from '@sillwatch/server';
import { pino } from 'pino';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from './field/support/harness.ts';
import { SERVED, servedYard } from './field/support/servedYard.ts';
import { isChromiumMissing, launchChromium, openPage, type Size } from './support/chromium.ts';

const FIRM = { id: 'firm-calm', name: 'Firm of long lists (invented)' };
const EMAIL = 'owner@example.com';
const PASSWORD = 'amber lantern gravel 7';

describe.skipIf(isChromiumMissing())('long lists of the office', () => {
  let app: Awaited<ReturnType<typeof buildApp>>;
  let folder: string;
  let server: RunningServer;
  let browser: Browser;
  beforeAll(async () => {
    app = await buildApp();
    folder = await mkdtemp(join(tmpdir(), 'sillwatch-calm-'));
    server = await startServer({
      port: 0,
      databaseUrl: join(folder, 'ledger.db'),
      webFolder: app.folder,
      log: pino({ level: 'silent' }),
      limits: { requestsPerMinute: 100_000, signIns: 1000 },
    });
    const owner = await seedAccount(server.accounts, FIRM, {
      name: 'Olga (invented)',
      email: EMAIL,
      role: 'owner',
      branch: null,
      licenceNumber: null,
      certificationNumber: null,
      password: PASSWORD,
    });
    await server.ledger.append(FIRM.id, servedYard(FIRM.id, owner, Date.now()), new Date().toISOString());
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
    await app?.remove();
    await rm(folder, { recursive: true, force: true });
  });

  async function signIn(page: Page): Promise<void> {
    await page.goto(server.url);
    await page.locator('input[type=email]').fill(EMAIL);
    await page.locator('input[type=password]').fill(PASSWORD);
    await page.locator('form .button-main').click();
    await page.getByRole('navigation').first().waitFor();
  }

  async function checkPage(page: Page, name: string): Promise<void> {
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
    expect(wide, name).toBeLessThanOrEqual(0);
    if (process.env['SHOTS'] !== undefined)
      await page.screenshot({ path: `${process.env['SHOTS']}-${name}.png` });
  }

  for (const [size, theme] of [
    ['phone', 'dark'],
    ['desk', 'light'],
  ] as const satisfies readonly (readonly [Size, 'light' | 'dark'])[])
    it(`puts the correction at the end of an entry's first line, and finds a part by its name (${size})`, async () => {
      const { page, close } = await openPage(browser, size, theme);
      await signIn(page);
      await page.goto(`${server.url}/properties/${SERVED}/entries`);
      const entry = page.locator('.entry').first();
      const correct = entry.getByRole('button', { name: /^Correct: / });
      await correct.waitFor();
      const [row, day, button] = await Promise.all([
        entry.boundingBox(),
        entry.locator('.entry-day').boundingBox(),
        correct.boundingBox(),
      ]);
      if (row === null || day === null || button === null) throw new Error('nothing to measure');
      expect(Math.abs(row.x + row.width - (button.x + button.width))).toBeLessThan(2);
      expect(button.y).toBeLessThan(day.y + day.height);
      expect(button.height).toBeGreaterThanOrEqual(44);
      await checkPage(page, `entries-${size}`);
      await correct.press('Enter');
      await entry.getByLabel('Why it is corrected').waitFor();

      await page.goto(`${server.url}/office/parts`);
      const forms = page.locator('.office-list > li');
      await forms.first().waitFor();
      const all = await forms.count();
      const find = page.getByLabel('Find a part');
      await find.fill('  MONITOR ');
      const seen = await forms.filter({ visible: true }).count();
      expect(seen).toBeGreaterThan(0);
      expect(seen).toBeLessThan(all);
      await checkPage(page, `parts-${size}`);
      // A decimal that could be thousands is refused in its box, not sent as "holds no pesticide".
      const first = forms.filter({ visible: true }).first();
      await first.getByLabel('Pieces in a pack').fill('10');
      await first.getByLabel('Days from order to shelf').fill('5');
      await first.getByLabel('Grams of product in one').fill('1,500');
      await first.getByRole('button').click();
      await first.locator('.field-error').waitFor();
      await find.fill('no such thing');
      await page.getByText('No part has these words in its name.').waitFor();
      await close();
    });
});
