import { mkdir } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { launchChromium, SIZES } from '../support/chromium.ts';
import { walkFieldScreens } from './support/fieldScreens.ts';
import { startFirm } from './support/firm.ts';
import { buildApp } from './support/harness.ts';
import { servedYard } from './support/servedYard.ts';

/** Pictures of every yard screen, both themes, both languages, to be looked at: `node apps/web/test/field/fieldShots.ts`. */
const FOLDER = new URL('../../../../.tmp/fieldScreens/', import.meta.url);

const app = await buildApp();
const [firm, browser] = await Promise.all([startFirm(app.folder), launchChromium()]);
try {
  await mkdir(FOLDER, { recursive: true });
  await firm.ledger().append(firm.firm, servedYard(firm.firm, 'owner', Date.now()), new Date().toISOString());
  for (const locale of ['en-US', 'es-US'])
    for (const colorScheme of ['light', 'dark'] as const) {
      const context = await browser.newContext({
        viewport: SIZES.phone,
        colorScheme,
        locale,
        serviceWorkers: 'block',
      });
      const page = await context.newPage();
      await walkFieldScreens({
        page,
        url: firm.url,
        look: async (name) => {
          const file = fileURLToPath(new URL(`${name}-${locale.slice(0, 2)}-${colorScheme}.png`, FOLDER));
          await page.screenshot({ path: file, fullPage: !name.startsWith('ask-') });
          process.stdout.write(`${file}\n`);
        },
      });
      await context.close();
    }
} finally {
  await browser.close();
  await firm.end();
  await app.remove();
}
