import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('soil and season', () => {
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

  async function checkPage(page: Page, name: string): Promise<void> {
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
    expect(wide, name).toBeLessThanOrEqual(0);
    if (process.env['SHOTS'] !== undefined)
      await page.screenshot({ path: `${process.env['SHOTS']}-soil-${name}.png`, fullPage: true });
  }

  it('is off, is entered with its source by keys alone, shows its year, and is turned off again', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/office/soil`);
    await page.getByText('Off here:').waitFor({ timeout: 30_000 });
    await checkPage(page, 'off');
    await page.getByLabel('Mean of the year at the surface, °F').focus();
    // One with a decimal comma, as a Spanish hand types it.
    const typed = ['62', '18', '13-40', '12', '0,5', '60', 'weather station, invented'];
    for (const value of typed) {
      await page.keyboard.type(value);
      await page.keyboard.press('Tab');
    }
    await page.keyboard.press('Enter');
    await page.getByText('Write it as MM-DD, such as 01-20.').waitFor();
    await page.getByLabel('Coldest day').fill('01-20');
    await page.keyboard.press('Enter');
    await page.getByRole('img', { name: /Soil temperature through the year/ }).waitFor({ timeout: 30_000 });
    await page
      .getByText(/Warm enough for termites to forage from \w+ \d+ to \w+ \d+: \d+ days of the year/)
      .waitFor();
    await page.getByText('skips no due visit').waitFor();
    await page.getByText('As a table').click();
    expect(await page.locator('tbody tr').count()).toBe(12);
    await checkPage(page, 'on');
    const { soilSeasons } = await (await page.request.get(`${demo.url}/api/office`)).json();
    expect(Object.values(soilSeasons)).toEqual([
      {
        meanCelsius: 16.6667,
        amplitudeCelsius: 10,
        coldestOn: '01-20',
        depthMetres: 0.3048,
        diffusivityMm2PerSecond: 0.5,
        forageFromCelsius: 15.5556,
        source: 'weather station, invented',
      },
    ]);
    await page.reload();
    expect(await page.getByLabel('Mean of the year at the surface, °F').inputValue()).toBe('62');
    expect(await page.getByLabel('Depth, inches').inputValue()).toBe('12');
    await page.getByRole('button', { name: 'Turn it off' }).click();
    await page.getByText('Off here:').waitFor({ timeout: 30_000 });
    expect(complaints).toEqual([]);
    await close();
  });

  it('is clean for axe-core on a phone and in the dark, in Spanish too', async () => {
    for (const [size, theme] of [
      ['phone', 'light'],
      ['desk', 'dark'],
    ] as const) {
      const { page, close } = await openPage(browser, size, theme);
      await page.goto(`${demo.url}/office/soil`);
      await page.getByRole('combobox', { name: 'Language' }).selectOption('es');
      await page.getByRole('heading', { name: 'Suelo y temporada' }).waitFor({ timeout: 30_000 });
      await page.locator('.summary').waitFor({ timeout: 30_000 });
      await checkPage(page, `${size}-${theme}`);
      await close();
    }
  });
});
