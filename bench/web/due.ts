/**
 * How smoothly a list of thousands scrolls: frames a second while a real browser rolls through one whole group of what is due.
 * `node bench/web/due.ts <database of bench/server/desk.ts>`; build the screens first (`npm run build -w apps/web`).
 */
import { startServer } from '@sillwatch/server';
import { pino } from 'pino';
import { chromium } from 'playwright-core';

const databaseUrl = process.argv[2];
if (databaseUrl === undefined)
  throw new Error('say which database: the one that bench/server/desk.ts filled');
const SECONDS = 5;
const server = await startServer({
  port: 0,
  databaseUrl,
  log: pino({ level: 'silent' }),
  openAs: 'owner',
  limits: { requestsPerMinute: 1_000_000, signIns: 1000 },
});
const browser = await chromium.launch({
  executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
  args: ['--headless', '--no-sandbox', '--disable-gpu', '--no-first-run'],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(`${server.url}/?group=late`);
  await page.locator('.due-line .due-name').first().waitFor({ timeout: 60_000 });
  const count = await page.locator('.count').textContent();
  for (const pixelsAFrame of [40, 200]) {
    const frames = await page.evaluate<readonly number[]>(scroll(pixelsAFrame, SECONDS));
    const sorted = frames.toSorted((a, b) => a - b);
    const median = sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
    const slow = sorted[Math.floor(sorted.length * 0.95)] ?? Number.NaN;
    console.log(
      `${count} rows, ${pixelsAFrame} px a frame: ${(frames.length / SECONDS).toFixed(0)} frames a second, ` +
        `median ${median.toFixed(1)} ms, 95 % ${slow.toFixed(1)} ms`,
    );
  }
} finally {
  await browser.close();
  await server.stop();
}

/** A script for the page: answers with the milliseconds from frame to frame. */
function scroll(pixelsAFrame: number, seconds: number): string {
  return `new Promise((resolve) => {
    const frames = [];
    const start = performance.now();
    let last = start;
    const step = (now) => {
      frames.push(now - last);
      last = now;
      scrollBy(0, ${pixelsAFrame});
      if (now - start < ${seconds * 1000}) requestAnimationFrame(step);
      else resolve(frames.slice(1));
    };
    requestAnimationFrame(step);
  })`;
}
