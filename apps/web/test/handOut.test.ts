import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('handing out', () => {
  let demo: Running;
  let browser: Browser;
  beforeAll(async () => {
    await buildScreens();
    [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.stop();
  });

  it('shows a message before it goes, and says when nothing can be sent', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/properties/property-001/hand-out`);
    await page.getByLabel('To', { exact: true }).fill('somebody@demo.invalid');
    await page.getByRole('button', { name: 'See what would go' }).click();
    await page.getByText(/^Attached: .+\.pdf, \d+ kB$/).waitFor();
    await page.getByRole('button', { name: 'Send to somebody@demo.invalid' }).click();
    await page
      .getByRole('alert')
      .getByText(/MAIL_HOST/)
      .waitFor();
    await page.getByText('This server sends no e-mail yet.').waitFor();
    await close();
  });

  it('makes a secret address that opens one property without signing in, until it is withdrawn', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/properties/property-001/hand-out`);
    await page.getByRole('button', { name: 'Make an address' }).click();
    const url = (await page.locator('.one-time').textContent()) ?? '';
    expect(url).toMatch(/\/link\//);
    const stranger = await browser.newContext();
    const other = await stranger.newPage();
    expect((await other.goto(url))?.status()).toBe(200);
    await page.getByRole('button', { name: 'Withdraw' }).click();
    await page.getByRole('button', { name: 'Withdraw' }).waitFor({ state: 'detached' });
    expect((await other.goto(url))?.status()).toBeGreaterThanOrEqual(400);
    await stranger.close();
    expect(complaints).toEqual([]);
    await close();
  });

  it.each(['/properties/property-001/hand-out', '/office/mail'])(
    'is clean for axe-core: %s',
    async (path) => {
      for (const theme of ['light', 'dark'] as const) {
        const { page, close } = await openPage(browser, 'phone', theme);
        await page.goto(`${demo.url}${path}`);
        await page.getByText('This server sends no e-mail yet.').waitFor();
        const { violations } = await new AxeBuilder({ page }).analyze();
        expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
        const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
        expect(wide).toBeLessThanOrEqual(0);
        await close();
      }
    },
  );
});
