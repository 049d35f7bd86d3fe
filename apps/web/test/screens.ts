import { mkdir } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { launchChromium, openPage, SIZES, type Size, type Theme } from './support/chromium.ts';
import { getPlace, isFeeding } from './support/places.ts';
import { buildScreens, startSillwatch } from './support/sillwatch.ts';

/**
 * Pictures of every screen of the demo, to be looked at: `node apps/web/test/screens.ts`.
 * All go to .tmp/screens (kept out of git); the few that the README shows, to docs/img with `--readme`.
 */
const FOLDER = new URL('../../../.tmp/screens/', import.meta.url);
const README_FOLDER = new URL('../../../docs/img/', import.meta.url);

interface Screen {
  readonly name: string;
  readonly path: string;
  readonly prepare?: (page: Page) => Promise<void>;
}

/** Screens that the README shows: the top of the page, as high as said. */
const README: readonly {
  readonly screen: string;
  readonly size: Size;
  readonly theme: Theme;
  readonly height: number;
}[] = [
  { screen: 'due', size: 'desk', theme: 'light', height: 900 },
  { screen: 'property', size: 'desk', theme: 'light', height: 1240 },
  { screen: 'steps', size: 'phone', theme: 'light', height: 844 },
  { screen: 'time', size: 'desk', theme: 'light', height: 900 },
  { screen: 'due', size: 'phone', theme: 'dark', height: 844 },
];

await buildScreens();
const [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
try {
  await mkdir(FOLDER, { recursive: true });
  await mkdir(README_FOLDER, { recursive: true });
  const screens = await listScreens();
  for (const size of Object.keys(SIZES) as Size[]) {
    for (const theme of ['light', 'dark'] as const) {
      const { page, complaints, close } = await openPage(browser, size, theme);
      for (const screen of screens) await take(page, screen, size, theme);
      if (complaints.length > 0) throw new Error(complaints.join('\n'));
      await close();
    }
  }
} finally {
  await browser.close();
  await demo.stop();
}

async function listScreens(): Promise<readonly Screen[]> {
  const { page, close } = await openPage(browser, 'desk', 'light');
  const place = await getPlace(page, demo.url, (station) => isFeeding(station) && station.held !== null);
  await close();
  const station = `/properties/${place.property}/stations/${place.station}`;
  return [
    { name: 'due', path: '/' },
    { name: 'properties', path: '/properties' },
    { name: 'property', path: `/properties/${place.property}` },
    { name: 'station', path: station },
    { name: 'steps', path: station, prepare: showSteps },
    { name: 'record', path: station, prepare: showRecord },
    { name: 'time', path: `/properties/${place.property}/time` },
    { name: 'drawing', path: `/properties/${place.property}/drawing`, prepare: selectHouse },
    { name: 'entries', path: `/properties/${place.property}/entries` },
    { name: 'hand-out', path: `/properties/${place.property}/hand-out` },
    { name: 'plans', path: '/plan' },
    { name: 'plan', path: '/plan', prepare: makePlan },
    { name: 'book', path: '/book', prepare: waitForPlot },
    { name: 'book-stations', path: '/book/stations', prepare: waitForPlot },
    { name: 'book-minutes', path: '/book/minutes' },
    { name: 'book-bait', path: '/book/bait' },
    { name: 'load', path: '/load' },
    { name: 'stock', path: '/load/stock' },
    ...['people', 'rounds', 'profiles', 'parts', 'soil', 'import', 'mail'].map((part) => ({
      name: `office-${part}`,
      path: `/office/${part}`,
    })),
    { name: 'marks', path: '/marks' },
    { name: 'no-page', path: '/no-such-page' },
  ];
}

async function take(page: Page, { name, path, prepare }: Screen, size: Size, theme: Theme): Promise<void> {
  await page.goto(`${demo.url}${path}`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForLoadState('networkidle');
  await prepare?.(page);
  const readme = README.find((one) => one.screen === name && one.size === size && one.theme === theme);
  if (readme !== undefined && process.argv.includes('--readme')) {
    await page.setViewportSize({ width: SIZES[size].width, height: readme.height });
    await page.screenshot({ path: fileURLToPath(new URL(`${name}-${size}-${theme}.png`, README_FOLDER)) });
    await page.setViewportSize(SIZES[size]);
  }
  const file = fileURLToPath(new URL(`${name}-${size}-${theme}.png`, FOLDER));
  await page.screenshot({ path: file, fullPage: true });
  process.stdout.write(`${file}\n`);
}

/** Yearly service at a station where termites feed: look only. */
async function showSteps(page: Page): Promise<void> {
  await page.getByRole('radio', { name: 'Yearly service' }).check({ force: true });
  await page.getByRole('radio', { name: /Live, on bait/ }).check({ force: true });
  await page.getByRole('radio', { name: '½' }).check({ force: true });
  await page.evaluate(
    "document.querySelector('.answer').scrollIntoView({ block: 'start' }); window.scrollBy(0, -24)",
  );
  await page.mouse.move(0, 0);
}

/** The structure with its corners and their numbers. */
async function selectHouse(page: Page): Promise<void> {
  await page.locator('.draw-chip').first().click();
}

/** A short search, then the first round opened. */
async function makePlan(page: Page): Promise<void> {
  await page.getByLabel('For how long').selectOption('6');
  await page.getByLabel('Search for').selectOption('5');
  await page.getByRole('button', { name: 'Plan', exact: true }).click();
  await page.locator('.week-round').first().click({ timeout: 60_000 });
}

/** The server may still be reckoning. */
async function waitForPlot(page: Page): Promise<void> {
  await page.locator('.plot').first().waitFor({ timeout: 60_000 });
}

/** Little bait left: bait goes in, and the law asks for its record. */
async function showRecord(page: Page): Promise<void> {
  await page.getByRole('radio', { name: /Live, on bait/ }).check({ force: true });
  await page.getByRole('radio', { name: 'Gone' }).check({ force: true });
  await page.getByRole('button', { name: 'Record it' }).click();
}
