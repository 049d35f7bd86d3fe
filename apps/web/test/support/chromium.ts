import { existsSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';

/** Debian's Chromium, or the one that CHROMIUM names. */
const EXECUTABLE = process.env['CHROMIUM'] ?? '/usr/bin/chromium';

export const FLAGS: readonly string[] = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const SIZES = {
  desk: { width: 1440, height: 900 },
  phone: { width: 390, height: 844 },
} as const;
export type Size = keyof typeof SIZES;
export type Theme = 'light' | 'dark';

/** In CI a missing Chromium is a failure; elsewhere the tests say that they were skipped and why. */
export function isChromiumMissing(): boolean {
  if (existsSync(EXECUTABLE)) return false;
  if (process.env['CI'] === 'true')
    throw new Error(`no Chromium at ${EXECUTABLE}: install it, or set CHROMIUM`);
  process.stderr.write(`SKIPPED: no Chromium at ${EXECUTABLE}. Install it, or say where with CHROMIUM.\n`);
  return true;
}

/**
 * By how many ms pages get their answers and timers later than this machine would give them (none unless asked for): with
 * 400 or so, a test that reads what has not come yet fails each time, and not once a month on a crowded machine.
 */
const LATE_MS = Number(process.env['SILLWATCH_LATE_MS'] ?? 0);

/** Every launch has a fresh profile of its own. */
export async function launchChromium(): Promise<Browser> {
  const browser = await chromium.launch({ executablePath: EXECUTABLE, args: [...FLAGS] });
  if (LATE_MS > 0) browser.on('context', (context) => void context.addInitScript(comeLate, LATE_MS));
  return browser;
}

/** Runs in each page before its own scripts. */
function comeLate(lateMs: number): void {
  const { fetch, setTimeout } = globalThis;
  globalThis.fetch = async (asked, init) => {
    await new Promise((resolve) => setTimeout(resolve, lateMs));
    return fetch(asked, init);
  };
  globalThis.setTimeout = ((run: () => void, ms = 0) => setTimeout(run, ms + lateMs)) as typeof setTimeout;
}

export interface OpenPage {
  readonly page: Page;
  /** what the page complained about: console errors and uncaught ones */
  readonly complaints: readonly string[];
  close(): Promise<void>;
}

export async function openPage(browser: Browser, size: Size, theme: Theme): Promise<OpenPage> {
  const context = await browser.newContext({ viewport: SIZES[size], colorScheme: theme, locale: 'en-US' });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`${message.text()} (${page.url()})`);
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  return { page, complaints, close: () => context.close() };
}
