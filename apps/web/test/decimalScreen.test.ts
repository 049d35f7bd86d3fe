import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, SIZES } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('the grams in one bait, typed in Spanish', () => {
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

  it('take a decimal comma, and what can be read two ways is asked back, not recorded', async () => {
    const context = await browser.newContext({ viewport: SIZES.desk, locale: 'es-US' });
    const page = await context.newPage();
    await page.goto(`${demo.url}/office/parts`);
    const form = page.locator('main form').first();
    await form.waitFor({ timeout: 30_000 });
    const grams = form.getByLabel('Gramos de producto en una');
    await form.getByLabel('Piezas por paquete').fill('6');
    await form.getByLabel('Días desde el pedido').fill('3');
    const recorded = async (): Promise<readonly unknown[]> => {
      const { parts } = await (await page.request.get(`${demo.url}/api/office`)).json();
      return (parts as readonly { readonly baitGrams: unknown }[]).map(({ baitGrams }) => baitGrams);
    };
    const before = await recorded();
    await grams.fill('1,250');
    await form.getByRole('button', { name: 'Guardar' }).click();
    await page.getByText('«1,250» se puede leer de dos maneras: escriba 1.25 o 1250.').waitFor();
    expect(await recorded()).toEqual(before);
    await grams.fill('0,5');
    await form.getByRole('button', { name: 'Guardar' }).click();
    await page.getByText('Guardado').waitFor();
    expect(await recorded()).toContain(0.5);
    await context.close();
  });
});
