import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('the book', () => {
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

  it('says what is late as the due page does, draws what its tables say, and opens its lists', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const { summary } = await (await page.request.get(`${demo.url}/api/due?limit=1`)).json();
    await page.goto(`${demo.url}/book`);
    await page.getByText(new RegExp(`${summary.late} pieces of work are late`)).waitFor({ timeout: 60_000 });

    const kept = page.locator('section.sheet', { hasText: 'Looks inside their windows' });
    await kept.locator('summary').click();
    const rows = await kept.locator('tbody tr').count();
    expect(rows).toBeGreaterThan(4);
    expect(await kept.locator('.plot-bar').count()).toBe(rows);
    const [title] = await kept.locator('.plot title').allTextContents();
    const [first] = await kept.locator('tbody tr').first().locator('td').allTextContents();
    expect(title).toContain(`: ${first} %`);

    const late = page.locator('section.sheet', { hasText: 'Late work' });
    await late.locator('summary').click();
    await late.locator('a').first().click();
    await page.getByRole('heading', { name: 'Owed here' }).waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('shows whether stations do their work, with its cautions, and is clean for axe-core', async () => {
    for (const size of ['desk', 'phone'] as const)
      for (const theme of ['light', 'dark'] as const) {
        const { page, close } = await openPage(browser, size, theme);
        for (const path of ['/book', '/book/stations']) {
          await page.goto(`${demo.url}${path}`);
          await page.locator('.plot').first().waitFor({ timeout: 60_000 });
          if (path === '/book/stations') {
            await page.getByText('No termites at stations does not prove that a colony is gone.').waitFor();
            await page.getByText('An order of urgency, never a reason to skip a due visit.').waitFor();
            await page.getByText(/^This is no registration study/).waitFor();
          }
          const { violations } = await new AxeBuilder({ page }).analyze();
          expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
          const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
          expect(wide, `${path} ${size}`).toBeLessThanOrEqual(0);
        }
        await close();
      }
  });
});
