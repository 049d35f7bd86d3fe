import { existsSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { firstFacts } from './support/facts.ts';
import { FIRM, seedPerson, signedIn, startTestServer, type TestServer } from './support/harness.ts';

const EXECUTABLE = process.env['CHROMIUM'] ?? '/usr/bin/chromium';
const isMissing = !existsSync(EXECUTABLE);
if (isMissing) {
  const why = `no Chromium at ${EXECUTABLE}: install it, or say where with CHROMIUM`;
  if (process.env['CI'] === 'true') throw new Error(why);
  process.stderr.write(`SKIPPED: ${why}\n`);
}

/** The customer's page in a real browser: its policy, its readers, its keyboard. */
describe.skipIf(isMissing)('the page behind a secret address', () => {
  let server: TestServer;
  let browser: Browser;
  let url = '';
  beforeAll(async () => {
    server = await startTestServer();
    await seedPerson(server, 'owner', { id: 'owner' });
    await server.ledger.append(FIRM.id, firstFacts(FIRM.id, 'owner', 'house'), '2026-01-01T00:00:00.000Z');
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    url = (await owner.post('/api/properties/house/links', { purpose: 'property page' })).body.url;
    browser = await chromium.launch({
      executablePath: EXECUTABLE,
      args: [
        '--headless',
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    });
  });
  afterAll(async () => {
    await browser?.close();
    await server?.end();
  });

  it.each([
    ['phone', { width: 390, height: 844 }],
    ['desk', { width: 1440, height: 900 }],
  ])(
    '%s: its style is let in by its hash, targets are large enough, and the keyboard leads to the report',
    async (_, viewport) => {
      const context = await browser.newContext({ viewport });
      const page = await context.newPage();
      const complaints: string[] = [];
      page.on('console', (message) => {
        if (message.type() === 'error') complaints.push(message.text());
      });
      const answer = await page.goto(url);
      expect(answer?.status()).toBe(200);
      // Shows that the policy took the style: without it the first heading would have the browser's own size.
      expect(await page.evaluate<string>("getComputedStyle(document.querySelector('h1')).fontSize")).toBe(
        '28px',
      );
      expect(await page.evaluate<boolean>('document.documentElement.scrollWidth <= window.innerWidth')).toBe(
        true,
      );
      for (const link of await page.locator('a').all())
        expect((await link.boundingBox())?.height).toBeGreaterThanOrEqual(48);
      expect(complaints).toEqual([]);
      await page.keyboard.press('Tab');
      expect(await page.evaluate<string>('document.activeElement.textContent')).toBe('Read the report');
      await page.keyboard.press('Enter');
      await page.waitForURL(/report\.html$/);
      expect(await page.locator('h1').textContent()).toBe('Visit report');
      await page.goto(`${url}x`);
      expect(await page.locator('h1').textContent()).toBe('There is nothing at this address');
      await context.close();
    },
  );

  it.each([
    ['page', (text: string) => text],
    ['gone', (text: string) => `${text}x`],
  ])('%s: axe finds nothing (WCAG 2.2 A and AA)', async (_, addressOf) => {
    // axe puts a script into the page, which the policy rightly forbids: here it is passed over.
    const context = await browser.newContext({ bypassCSP: true });
    const page = await context.newPage();
    await page.goto(addressOf(url));
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
      .analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ''}`)).toEqual([]);
    await context.close();
  });
});
