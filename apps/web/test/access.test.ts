import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  isChromiumMissing,
  launchChromium,
  openPage,
  SIZES,
  type Size,
  type Theme,
} from './support/chromium.ts';
import { getPlace, isFeeding } from './support/places.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

/** Outside check: axe-core's rules for WCAG 2.0 to 2.2, A and AA, and its best practices. */
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

describe.skipIf(isChromiumMissing())('every screen', () => {
  let demo: Running;
  let browser: Browser;
  let paths: readonly string[];

  beforeAll(async () => {
    await buildScreens();
    [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
    const { page, close } = await openPage(browser, 'desk', 'light');
    const { property, station } = await getPlace(page, demo.url, isFeeding);
    paths = [
      '/',
      '/properties',
      `/properties/${property}`,
      `/properties/${property}/stations/${station}`,
      `/properties/${property}/drawing`,
      '/marks',
      '/account',
    ];
    await close();
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.stop();
  });

  const combinations = (Object.keys(SIZES) as Size[]).flatMap((size) =>
    (['light', 'dark'] as Theme[]).map((theme) => [size, theme] as const),
  );

  it.each(combinations)('is clean for axe-core (%s, %s)', async (size, theme) => {
    const { page, complaints, close } = await openPage(browser, size, theme);
    for (const path of paths) {
      await open(page, path);
      if (path.includes('/stations/')) await workOut(page);
      const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
      const told = violations.flatMap(({ id, nodes }) =>
        nodes.map(({ html, failureSummary }) => `${path} ${id}: ${html}\n${failureSummary}`),
      );
      expect(told).toEqual([]);
    }
    expect(complaints).toEqual([]);
    await close();
  });

  it('never scrolls sideways: at 320 px (WCAG 2.2, 1.4.10) and with text at 200 % (1.4.4)', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    for (const path of paths) {
      for (const [width, size] of [
        [320, '106.25%'],
        [390, '106.25%'],
        [390, '212.5%'],
        // a desk zoomed to 200 %
        [720, '106.25%'],
      ] as const) {
        await page.setViewportSize({ width, height: 800 });
        await open(page, path);
        if (path.includes('/stations/')) await workOut(page);
        await page.addStyleTag({ content: `html { font-size: ${size} !important }` });
        const beyond = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
        expect(beyond, `${path} at ${width} px and ${size}`).toBeLessThanOrEqual(0);
      }
    }
    await close();
  });

  it('has targets for a gloved thumb on the phone: 48 px high', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    for (const path of paths) {
      await open(page, path);
      if (path.includes('/stations/')) await workOut(page);
      const small = await page.evaluate<readonly string[]>(`
        [...document.querySelectorAll('button, select, input:not([type=radio]), summary, .choice-face, .place, .due-line, .due-row, .station-row')]
          .filter((element) => element.checkVisibility() && element.getBoundingClientRect().height < 47.9)
          .map((element) => element.outerHTML.slice(0, 120))`);
      expect(small, path).toEqual([]);
    }
    await close();
  });

  it('can be worked by keys alone, from the skip link to the steps', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await open(page, '/');
    await page.locator('.due-line').first().waitFor();
    await page.keyboard.press('Tab');
    expect(await focused(page)).toBe('Skip to the page');
    await page.keyboard.press('Enter');
    for (
      let at = 0;
      at < 12 && !(await page.evaluate<boolean>("document.activeElement.matches('.due-line')"));
      at += 1
    )
      await page.keyboard.press('Tab');
    const ring = await page.evaluate<string>('getComputedStyle(document.activeElement).outlineStyle');
    expect(ring, 'the focus can be seen').toBe('solid');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 2, name: 'Before you go in' }).waitFor();
    expect(
      await page.evaluate<string>('document.activeElement.tagName'),
      'a new page starts at its heading',
    ).toBe('H1');
    await page.locator('.station-row, .plan-station').first().waitFor();
    for (
      let at = 0;
      at < 60 &&
      !(await page.evaluate<boolean>("document.activeElement.matches('.station-row, .plan-station')"));
      at += 1
    )
      await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByRole('radio', { name: 'Check' }).waitFor();
    await page.getByRole('radio', { name: 'Check' }).focus();
    await page.keyboard.press('ArrowRight');
    expect(await page.getByRole('radio', { name: 'Yearly service' }).isChecked()).toBe(true);
    await close();
  });

  it('follows the system’s light or dark, and keeps a choice made by hand', async () => {
    const { page, close } = await openPage(browser, 'desk', 'dark');
    await open(page, '/');
    const ground = () => page.evaluate<string>('getComputedStyle(document.body).backgroundColor');
    const dark = await ground();
    await page.getByRole('button', { name: 'Light screen' }).click();
    const light = await ground();
    expect(light).not.toBe(dark);
    await page.reload();
    await page.getByRole('heading', { level: 1 }).waitFor();
    expect(await ground()).toBe(light);
    await close();
  });

  it('tells every mark from every other in black on white alone', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await open(page, '/marks');
    const drawings = await page.evaluate<readonly (readonly [string, readonly number[]])[]>(DRAW_MARKS);
    expect(drawings).toHaveLength(12);
    for (const [nameA, a] of drawings) {
      for (const [nameB, b] of drawings) {
        if (nameA >= nameB) continue;
        const different = a.filter((pixel, index) => Math.abs(pixel - (b[index] ?? 0)) > 96).length;
        // 24 x 24 pixels; 4 % of them is a difference that an eye finds at arm's length.
        expect(different / a.length, `${nameA} and ${nameB}`).toBeGreaterThan(0.04);
      }
    }
    await close();
  });

  async function open(page: Page, path: string): Promise<void> {
    await page.goto(`${demo.url}${path}`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.waitForLoadState('networkidle');
  }
});

async function workOut(page: Page): Promise<void> {
  await page.getByRole('radio', { name: 'Yearly service' }).check({ force: true });
  await page.getByRole('radio', { name: /Live, on bait/ }).check({ force: true });
  await page.getByRole('radio', { name: '½' }).check({ force: true });
  await page.locator('.rest > summary').click();
  await page.locator('.why summary').first().click();
  await page.getByRole('button', { name: 'Record it' }).click();
}

function focused(page: Page): Promise<string> {
  return page.evaluate<string>('document.activeElement.textContent');
}

/** Draws each mark of the page at 24 px in black on white and answers with its name and grey values. */
const DRAW_MARKS = `Promise.all([...document.querySelectorAll('.marks svg')].map(async (svg) => {
  const copy = svg.cloneNode(true);
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  copy.setAttribute('width', '24');
  copy.setAttribute('height', '24');
  copy.removeAttribute('style');
  const text = copy.outerHTML.replace(/color="[^"]*"/g, 'color="#000"').replace(/var\\(--sheet\\)/g, '#fff');
  const image = new Image();
  image.src = 'data:image/svg+xml,' + encodeURIComponent(text);
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = 24;
  canvas.height = 24;
  const pen = canvas.getContext('2d');
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, 24, 24);
  pen.drawImage(image, 0, 0, 24, 24);
  const { data } = pen.getImageData(0, 0, 24, 24);
  return [svg.getAttribute('aria-label'), Array.from({ length: 576 }, (_, at) => data[at * 4])];
}))`;
