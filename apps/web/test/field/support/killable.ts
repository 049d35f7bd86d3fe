import { spawn } from 'node:child_process';
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { FLAGS } from '../../support/chromium.ts';

/** A Chromium of our own on a profile that outlives it, so that it can be killed as an operating system kills. */
export interface KillableChromium {
  readonly context: BrowserContext;
  readonly page: Page;
  /** SIGKILL to the browser and all its processes, now. */
  kill(): Promise<void>;
}

export async function launchKillable(profile: string, url: string): Promise<KillableChromium> {
  const portFile = join(profile, 'DevToolsActivePort');
  await rm(portFile, { force: true });
  const child = spawn(
    process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    [...FLAGS, '--remote-debugging-port=0', `--user-data-dir=${profile}`, 'about:blank'],
    { detached: true, stdio: 'ignore' },
  );
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const kill = async (): Promise<void> => {
    // The group that was started here, and nobody else's.
    if (child.pid !== undefined && child.exitCode === null && child.signalCode === null)
      process.kill(-child.pid, 'SIGKILL');
    await gone;
  };
  try {
    const port = await readPort(portFile);
    const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
    const [context] = browser.contexts();
    if (context === undefined) throw new Error('Chromium has no context');
    const page = context.pages()[0] ?? (await context.newPage());
    await page.goto(url);
    return { context, page, kill };
  } catch (error) {
    await kill();
    throw error;
  }
}

async function readPort(file: string): Promise<string> {
  const until = Date.now() + 30_000;
  while (Date.now() < until) {
    const [port = ''] = (await readFile(file, 'utf8').catch(() => '')).split('\n');
    if (port !== '') return port;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  throw new Error('Chromium did not say where it listens');
}
