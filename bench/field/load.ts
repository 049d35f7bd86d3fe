/**
 * What a phone fetches before the yard's first screen shows, and what it may fetch later: bytes as they travel (Brotli, as
 * the server packs them). `node bench/field/load.ts`. Goal: under 200 kB of script for the field part.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { startFirm } from '../../apps/web/test/field/support/firm.ts';
import { buildApp } from '../../apps/web/test/field/support/harness.ts';
import { launchKillable } from '../../apps/web/test/field/support/killable.ts';
import { HOUSE, makeProfile, signIn } from './yard.ts';

const GOAL_KB = 200;
const app = await buildApp();
const firm = await startFirm(app.folder);
const profile = await makeProfile();
const chromium = await launchKillable(profile.folder, firm.url);
await signIn(chromium.page);

/** A page that registers no worker, so that only what the screen itself asks for is counted. */
const page = await chromium.context.newPage();
const asked = new Set<string>();
page.on('request', (request) => asked.add(new URL(request.url()).pathname));
await page.addInitScript(() => {
  Reflect.deleteProperty(Object.getPrototypeOf(globalThis.navigator), 'serviceWorker');
});
await page.goto(`${firm.url}/field`);
await page.getByText(HOUSE).first().waitFor();

const assets = readdirSync(join(app.folder, 'assets'));
const packed = (file: string): number => {
  const bytes = readFileSync(join(app.folder, 'assets', file));
  return file.endsWith('.woff2') ? bytes.length : brotliCompressSync(bytes).length;
};
const sum = (files: readonly string[]): number =>
  files.reduce((total, file) => total + packed(file), 0) / 1000;
const first = assets.filter((file) => asked.has(`/assets/${file}`));
const scripts = first.filter((file) => file.endsWith('.js'));
const precached = readFileSync(join(app.folder, 'sw.js'), 'utf8');
const kept = assets.filter((file) => precached.includes(`/assets/${file}`));
for (const file of scripts) console.log(`  ${file} ${(packed(file) / 1000).toFixed(1)} kB`);
const total = sum(scripts);
console.log(`scripts before the first yard screen: ${total.toFixed(1)} kB packed (goal ${GOAL_KB})`);
console.log(
  `styles ${sum(first.filter((file) => file.endsWith('.css'))).toFixed(1)} kB, fonts ${sum(first.filter((file) => file.endsWith('.woff2'))).toFixed(1)} kB`,
);
console.log(
  `all that is kept for the yard, both languages, practice and scanning: ${sum(kept.filter((file) => file.endsWith('.js'))).toFixed(1)} kB of script, ${sum(kept).toFixed(1)} kB in all`,
);
await chromium.kill();
await firm.end();
await app.remove();
await profile.remove();
if (total > GOAL_KB || scripts.length === 0) process.exitCode = 1;
