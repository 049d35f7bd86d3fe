/** Draws the app's icons from public/mark.svg with Chromium: `node apps/web/drawIcons.ts`. The pictures are checked in. */
import { readFileSync, writeFileSync } from 'node:fs';
import { chromium } from 'playwright-core';

const PUBLIC = new URL('./public/', import.meta.url);
const GROUND = '#0b5a4a';
const mark = readFileSync(new URL('mark.svg', PUBLIC), 'utf8');

/** A maskable icon may be cut to a circle of 80 % of its side (W3C App Manifest, safe zone): the mark stays inside, the ground fills all. */
const ICONS = [
  { file: 'icon-180.png', side: 180, fill: true, scale: 1 },
  { file: 'icon-192.png', side: 192, fill: false, scale: 1 },
  { file: 'icon-512.png', side: 512, fill: false, scale: 1 },
  { file: 'icon-maskable-512.png', side: 512, fill: true, scale: 0.8 },
] as const;

const browser = await chromium.launch({
  executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
  args: ['--headless', '--no-sandbox', '--disable-gpu'],
});
for (const { file, side, fill, scale } of ICONS) {
  const page = await browser.newPage({ viewport: { width: side, height: side } });
  const size = Math.round(side * scale);
  await page.setContent(
    `<body style="margin:0;display:grid;place-items:center;height:100vh;background:${fill ? GROUND : 'transparent'}">` +
      `<div style="width:${size}px;height:${size}px">${mark}</div></body>`,
  );
  writeFileSync(new URL(file, PUBLIC), await page.screenshot({ omitBackground: true }));
  await page.close();
}
await browser.close();
