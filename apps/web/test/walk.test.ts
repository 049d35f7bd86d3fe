import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage, SIZES, type Size } from './support/chromium.ts';
import { getPlace, isFeeding, isQuiet } from './support/places.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

/** The real demo, walked in a real browser from what is due to what to do at a station. */
describe.skipIf(isChromiumMissing())('the demo', () => {
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

  it.each(Object.keys(SIZES) as Size[])(
    'says at a feeding station to look only, also at yearly service (%s)',
    async (size) => {
      const { page, complaints, close } = await openPage(browser, size, 'light');
      const place = await getPlace(page, demo.url, isFeeding);

      await page.goto(demo.url);
      await page.getByRole('heading', { level: 1, name: 'What is due' }).waitFor();
      await page.getByText('Invented firm: nothing here is real.').waitFor();

      await page.getByRole('navigation', { name: 'Pages' }).getByRole('link', { name: 'Properties' }).click();
      await page.getByRole('searchbox').fill(place.name);
      // Households share names; the address tells them apart.
      await page.locator(`main a[href="/properties/${place.property}"]`).click();
      await page.getByRole('heading', { level: 1, name: place.name }).waitFor();
      await page.getByRole('heading', { level: 2, name: 'Before you go in' }).waitFor();

      await page.locator(`.plan a[href$="/${place.station}"]`).focus();
      await page.keyboard.press('Enter');
      await page.getByRole('heading', { level: 1, name: `Station ${place.number}` }).waitFor();
      await page.getByText('Put gloves on, open the cap and look.').waitFor();
      expect(await page.locator('.step').count(), 'no step before somebody has looked').toBe(0);

      await page.getByRole('radio', { name: 'Yearly service' }).check({ force: true });
      await page.getByRole('radio', { name: /Live, on bait/ }).check({ force: true });
      await page.getByRole('radio', { name: '½' }).check({ force: true });
      const steps = await page.locator('.step-do').allInnerTexts();
      expect(steps).toContain('Look only. Leave everything in place');
      expect(steps.join('; ')).not.toMatch(/lift|clear debris|new base|new top|renew|take the bait out/i);
      await page.getByText('Termites are feeding. Look only, and leave everything in place.').waitFor();
      await page.getByText('The yearly service is carried over.').waitFor();

      await page.locator('.why summary').nth(1).click();
      await page.locator('.why[open]', { hasText: /Rule table “.+”, row “.+”/ }).waitFor();
      await page.getByRole('heading', { level: 2, name: 'History' }).waitFor();
      expect(complaints).toEqual([]);
      await close();
    },
  );

  it('asks for the whole yearly service where nothing is found', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    const place = await getPlace(page, demo.url, isQuiet);
    await page.goto(`${demo.url}/properties/${place.property}/stations/${place.station}`);
    await page.getByRole('radio', { name: 'Yearly service' }).check({ force: true });
    await page.getByRole('radio', { name: 'None', exact: true }).check({ force: true });
    const steps = await page.locator('.step-do').allInnerTexts();
    for (const step of [
      'Lift the top monitor',
      'Lift the base monitor, every piece of it',
      'Clear debris from the housing',
      'Fit a new base monitor',
      'Fit a new top monitor',
      'Close and lock the cap',
    ])
      expect(steps).toContain(step);
    await close();
  });

  it('refuses bait without its legal fields in place, then records it and shows it in the history', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const place = await getPlace(page, demo.url, isQuiet);
    await page.goto(`${demo.url}/properties/${place.property}/stations/${place.station}`);
    await page.getByRole('radio', { name: /Live, on a monitor/ }).check({ force: true });
    await page.getByRole('button', { name: 'Record it' }).click();

    const certificate = page.getByLabel('Certification number');
    await certificate.fill('');
    await page.getByRole('button', { name: 'I did these steps: record' }).click();
    await page.getByText('Certification number: fill this in').waitFor();
    expect(await certificate.getAttribute('aria-invalid')).toBe('true');

    await certificate.fill('ZZ-0001 (invented)');
    await page.getByLabel('Note').fill('Written by a test.');
    await page.getByRole('button', { name: 'I did these steps: record' }).click();
    await page.getByText('Recorded', { exact: true }).waitFor();
    await page.getByText('“Written by a test.”').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('links to papers that open', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    const place = await getPlace(page, demo.url, isQuiet);
    await page.goto(`${demo.url}/properties/${place.property}`);
    await page.getByRole('heading', { name: 'Papers' }).waitFor();
    const links = await page.locator('.paper-formats a, .visits a').all();
    expect(links.length).toBeGreaterThan(8);
    for (const link of links) {
      const href = (await link.getAttribute('href')) ?? '';
      const answer = await page.request.get(`${demo.url}${href}`);
      expect(answer.status(), href).toBe(200);
      const format = new URLSearchParams(href.split('?')[1]).get('format') ?? '';
      expect(answer.headers()['content-type'], href).toContain(format);
    }
    await close();
  });

  it('filters what is due and keeps the filter in the address', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(demo.url);
    const rows = page.locator('.due-line');
    await rows.first().waitFor();
    const all = await rows.count();
    await page.getByRole('combobox', { name: 'Branch' }).selectOption({ index: 1 });
    await expect.poll(() => rows.count()).toBeLessThan(all);
    expect(new URL(page.url()).searchParams.get('branch')).not.toBeNull();
    await page.getByRole('searchbox').fill('no such place at all');
    await expect.poll(() => rows.count()).toBe(0);
    await page.getByRole('button', { name: 'Show everything' }).first().click();
    await expect.poll(() => rows.count()).toBe(all);
    await close();
  });

  it('says what to do when the server cannot be reached or the page does not exist', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    await page.goto(`${demo.url}/no/such/page`);
    await page.getByRole('heading', { level: 1, name: 'There is no such page' }).waitFor();
    await page.goto(`${demo.url}/properties/not-a-property`);
    await page.getByRole('heading', { level: 1, name: 'No such property' }).waitFor();
    await page.route('**/api/due*', (route) => route.abort());
    await page.goto(demo.url);
    await page.getByText('The server cannot be reached.').waitFor();
    await page.unroute('**/api/due*');
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.locator('.due-line').first().waitFor();
    await close();
  });

  it('reaches every page from the bar of a phone, of which nothing is cut off', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'light');
    await page.goto(demo.url);
    const bar = page.getByRole('navigation', { name: 'Pages' });
    await bar.waitFor();
    for (const width of [390, 320]) {
      await page.setViewportSize({ width, height: 844 });
      const cut = await page.evaluate<number>(
        "(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)(document.querySelector('.places'))",
      );
      expect(cut, `${width} px`).toBeLessThanOrEqual(0);
    }
    const more = bar.getByRole('button', { name: 'More' });
    const office = bar.getByRole('link', { name: 'Office' });
    expect(await office.isVisible()).toBe(false);
    await more.focus();
    await page.keyboard.press('Enter');
    await office.waitFor();
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    await page.keyboard.press('Escape');
    await office.waitFor({ state: 'hidden' });
    await more.click();
    await office.click();
    await page.getByRole('heading', { level: 1, name: 'Office' }).waitFor();
    expect(await office.isVisible()).toBe(false);
    // On a desk there is room for all of them.
    await page.setViewportSize({ width: 1440, height: 900 });
    expect(await office.isVisible()).toBe(true);
    expect(await more.isVisible()).toBe(false);
    expect(complaints).toEqual([]);
    await close();
  });
});
