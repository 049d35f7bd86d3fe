import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, SIZES, type Theme } from '../support/chromium.ts';
import { walkFieldScreens } from './support/fieldScreens.ts';
import { type Firm, startFirm } from './support/firm.ts';
import { buildApp } from './support/harness.ts';
import { servedYard } from './support/servedYard.ts';

/**
 * Outside check: axe-core's rules for WCAG 2.0 to 2.2, A and AA, its best practices, and its rule for a contrast of 7:1
 * (1.4.6, AAA).
 */
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const SCREENS = 28;
/** Words of buttons and choices that stand on more than one line. */
const TORN_WORDS = `
  [...document.querySelectorAll('.button, .answer-button, .choice-face')]
    .filter((element) => element.checkVisibility())
    .flatMap((element) => {
      const texts = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
      const torn = [];
      while (texts.nextNode())
        for (const { 0: word, index } of texts.currentNode.data.matchAll(/[^\\s/-]+/g)) {
          const range = document.createRange();
          range.setStart(texts.currentNode, index);
          range.setEnd(texts.currentNode, index + word.length);
          if (new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size > 1) torn.push(word);
        }
      return torn;
    })`;

describe.skipIf(isChromiumMissing())('every yard screen', () => {
  let app: Awaited<ReturnType<typeof buildApp>>;
  let firm: Firm;
  let browser: Browser;

  beforeAll(async () => {
    app = await buildApp();
    [firm, browser] = await Promise.all([startFirm(app.folder), launchChromium()]);
    await firm
      .ledger()
      .append(firm.firm, servedYard(firm.firm, 'owner', Date.now()), new Date().toISOString());
  });
  afterAll(async () => {
    await browser?.close();
    await firm?.end();
    await app?.remove();
  });

  const combinations = (['en-US', 'es-US'] as const).flatMap((locale) =>
    (['light', 'dark'] as const).map((theme) => [locale, theme] as const),
  );

  it.each(combinations)(
    'is clean for axe-core, 7:1 included (%s, %s)',
    async (locale, theme) => {
      const { page, complaints, close } = await open(locale, theme);
      const told: string[] = [];
      const seen = await walk(page, async (name) => {
        expect(await page.evaluate('document.documentElement.lang')).toBe(locale);
        const { violations } = await new AxeBuilder({ page })
          .options({ runOnly: RULES, rules: { 'color-contrast-enhanced': { enabled: true } } })
          .analyze();
        for (const { id, nodes } of violations)
          for (const { html, failureSummary } of nodes)
            told.push(`${name} ${id}: ${html.slice(0, 160)} ${failureSummary?.slice(0, 300) ?? ''}`);
      });
      expect(told).toEqual([]);
      expect(seen).toBeGreaterThanOrEqual(SCREENS);
      expect(complaints).toEqual([]);
      await close();
    },
    400_000,
  );

  it.each(['en-US', 'es-US'])(
    'never scrolls sideways, at 320 px and with text twice as large, and tears no word on a button at 360 px (%s)',
    async (locale) => {
      const { page, close } = await open(locale, 'light');
      const told: string[] = [];
      const seen = await walk(page, async (name) => {
        for (const [width, size] of [
          [320, '106.25%'],
          [390, '212.5%'],
        ] as const) {
          await page.setViewportSize({ width, height: SIZES.phone.height });
          await page.evaluate(`document.documentElement.style.fontSize = '${size}'`);
          const beyond = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
          if (beyond > 0) told.push(`${name}: ${beyond} px beyond ${width} px at ${size}`);
        }
        await page.evaluate("document.documentElement.style.fontSize = ''");
        await page.setViewportSize({ width: 360, height: SIZES.phone.height });
        const torn = await page.evaluate<readonly string[]>(TORN_WORDS);
        told.push(...torn.map((word) => `${name}: "${word}" is torn`));
        await page.setViewportSize(SIZES.phone);
      });
      expect(told).toEqual([]);
      expect(seen).toBeGreaterThanOrEqual(SCREENS);
      await close();
    },
    400_000,
  );

  it('has targets for a gloved thumb: 48 px high, 64 px for the main answers, which stand in the lower part', async () => {
    const { page, close } = await open('en-US', 'light');
    const told: string[] = [];
    await walk(page, async (name) => {
      const small = await page.evaluate<readonly string[]>(`
        [...document.querySelectorAll('.yard button, .yard a, .yard select, .yard input:not([type=radio], [type=file], [type=checkbox]), .yard textarea, .yard summary, .yard .choice-face, .step-check, .photo-take')]
          .filter((element) => element.checkVisibility() && !element.closest('svg') && !element.classList.contains('skip'))
          .map((element) => [element, element.matches('.thumb, .ask > .ask-answers:not(.ask-chips) .answer-button') ? 64 : 48])
          .filter(([element, least]) => element.getBoundingClientRect().height < least - 0.1)
          .map(([element, least]) => least + ': ' + element.outerHTML.slice(0, 120))`);
      told.push(...small.map((one) => `${name} ${one}`));
      // The first answer to each question lies in the lower two thirds of the screen, where a thumb reaches.
      const first = page.locator('.ask > .ask-answers .answer-button').first();
      if (name.startsWith('ask-') && name !== 'ask-why' && (await first.count()) > 0) {
        const top = (await first.boundingBox())?.y ?? 0;
        if (top < SIZES.phone.height / 3) told.push(`${name}: the first answer stands at ${top} px`);
      }
    });
    expect(told).toEqual([]);
    await close();
  }, 400_000);

  it('can be served with keys alone', async () => {
    const { page, close } = await open('en-US', 'light');
    await page.goto(`${firm.url}/field/practice`);
    await press(page, 'Begin');
    await press(page, 'Gloves are on: begin');
    await press(page, 'Next: station 10');
    await press(page, 'No termites');
    expect(await page.evaluate('document.activeElement.textContent')).toBe('Monitor, housing and cap');
    await press(page, 'All as it should be');
    await page.locator('#ask-decide:focus').waitFor();
    await press(page, 'Renew the monitors and clean out');
    await page.locator('#steps-title:focus').waitFor();
    expect(await page.evaluate('document.activeElement.textContent')).toBe('Do this, in this order');
    await press(page, 'Done as listed: record');
    await page.getByText('Station 10 recorded').waitFor();
    await close();
  });

  /** Tab until the control of this name has the focus, then Enter. */
  async function press(page: Page, name: string): Promise<void> {
    await page.locator('button, a', { hasText: name }).first().waitFor();
    for (let tabs = 0; tabs < 80; tabs += 1) {
      await page.keyboard.press('Tab');
      const at = await page.evaluate<string>('document.activeElement.textContent ?? ""');
      if (at.trim() === name) {
        await page.keyboard.press('Enter');
        return;
      }
    }
    throw new Error(`no key leads to "${name}"`);
  }

  async function walk(page: Page, look: (name: string) => Promise<void>): Promise<number> {
    let seen = 0;
    await walkFieldScreens({
      page,
      url: firm.url,
      look: async (name) => {
        seen += 1;
        await look(name);
      },
    });
    return seen;
  }

  async function open(locale: string, theme: Theme) {
    const context = await browser.newContext({
      viewport: SIZES.phone,
      colorScheme: theme,
      locale,
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    page.setDefaultTimeout(15_000);
    const complaints: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    return { page, complaints, close: () => context.close() };
  }
});
