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

  it('shows how true its chances were, band by band as its table says, of one branch too', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/book/stations`);
    const risk = page.locator('section.sheet', { hasText: 'How true the chances' });
    await risk.waitFor({ timeout: 60_000 });
    await risk.getByText(/hits where .* were expected|Too little to say/).waitFor();
    await risk.getByText('As a table').click();
    const bands = await risk.locator('details tbody tr').count();
    expect(bands).toBeGreaterThan(1);
    expect(await risk.locator('.plot-point').count()).toBe(bands);
    const { branches } = await (await page.request.get(`${demo.url}/api/branches`)).json();
    const [{ branch }] = branches;
    const asked = page.waitForResponse((one) => one.url().endsWith(`/api/figures/risk?branch=${branch}`));
    await page.getByLabel('Branch').selectOption(branch);
    expect((await asked).status()).toBe(200);
    expect(complaints).toEqual([]);
    await close();
  });

  it('holds the firm’s structures against published criteria, row by row as the API says it', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/book`);
    await page.getByRole('link', { name: 'Published criteria' }).click();
    const rows = page
      .locator('section.sheet', { hasText: 'What was asked of bait studies' })
      .locator('tbody tr');
    await rows.first().waitFor({ timeout: 60_000 });
    const { figures } = await (await page.request.get(`${demo.url}/api/figures/criteria`)).json();
    const shares: readonly ({ events: number; trials: number } | null)[] = figures.criteria.map(
      ({ share }: { share: { events: number; trials: number } | null }) => share,
    );
    expect(shares.filter((share) => share !== null).length).toBe(2);
    for (const [at, share] of shares.entries()) {
      const text = await rows.nth(at).textContent();
      expect(text).toContain(
        share === null
          ? ['Not in this record', '', '', 'Take this figure'][at]
          : `${share.events} of ${share.trials}`,
      );
    }
    await page.getByText(/^This is no registration study/).waitFor();
    await page.locator('.plot').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('shows where the bait went and how long work takes, as the API says it', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/book`);
    await page.getByRole('link', { name: 'Bait' }).click();
    const totals = page.locator('section.sheet', { hasText: 'Grams of product by quarter' });
    await totals
      .getByText(/applications in the last four quarters: .* grams of product/)
      .waitFor({ timeout: 60_000 });
    const { figures } = await (await page.request.get(`${demo.url}/api/figures/bait`)).json();
    expect(figures.totals.length).toBeGreaterThan(1);
    expect(await totals.locator('.plot-bar').count()).toBe(figures.totals.length);
    const property = page.locator('section.sheet', { hasText: 'By property' });
    expect(await property.locator('tbody tr').count()).toBe(figures.used.length);
    expect(await property.locator('tbody a').first().textContent()).toBe(
      figures.names[figures.used[0].property],
    );
    await page.getByRole('heading', { name: 'Held against counted stock' }).waitFor();
    await page.getByRole('link', { name: 'Time' }).click();
    await page.getByText(/Learned from [\d,]+ looks and [\d,]+ visits/).waitFor({ timeout: 60_000 });
    const work = page.locator('section.sheet', { hasText: 'Minutes by work' });
    expect(await work.locator('tbody tr').count()).toBe(5);
    expect(complaints).toEqual([]);
    await close();
  });

  it('shows whether stations do their work, with its cautions, and is clean for axe-core', async () => {
    for (const size of ['desk', 'phone'] as const)
      for (const theme of ['light', 'dark'] as const) {
        const { page, close } = await openPage(browser, size, theme);
        for (const path of ['/book', '/book/stations', '/book/criteria', '/book/minutes', '/book/bait']) {
          await page.goto(`${demo.url}${path}`);
          await page
            .locator(path === '/book/minutes' ? 'tbody' : '.plot')
            .first()
            .waitFor({ timeout: 60_000 });
          if (path === '/book/stations') {
            await page.getByText('No termites at stations does not prove that a colony is gone.').waitFor();
            await page.getByText('An order of urgency, never a reason to skip a due visit.').waitFor();
          }
          const { violations } = await new AxeBuilder({ page }).analyze();
          expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
          const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
          expect(wide, `${path} ${size}`).toBeLessThanOrEqual(0);
          if (process.env['SHOTS'] !== undefined)
            await page.screenshot({
              path: `${process.env['SHOTS']}${path.replaceAll('/', '-')}-${size}-${theme}.png`,
              fullPage: true,
            });
        }
        await close();
      }
  });
});
