import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('load and stock', () => {
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

  it('counts stock, and what is to be ordered changes', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/load/stock`);
    const form = page.getByRole('form', { name: 'Count, receive or move' });
    await form.waitFor({ timeout: 60_000 });
    const { branches } = await (await page.request.get(`${demo.url}/api/branches`)).json();
    const of = async (part: string) => {
      const path = `/api/stock?branch=${encodeURIComponent(branches[0].branch)}`;
      const { answer } = await (await page.request.get(`${demo.url}${path}`)).json();
      return answer.parts.find((one: { part: string }) => one.part === part);
    };
    const path = `/api/stock?branch=${encodeURIComponent(branches[0].branch)}`;
    const { answer } = await (await page.request.get(`${demo.url}${path}`)).json();
    const { part } = answer.parts.find((one: { reorderPoint: number }) => one.reorderPoint > 0);
    const before = await of(part);
    await page.getByLabel('Branch').selectOption(branches[0].branch);
    for (const line of answer.lines.filter((one: { part: string }) => one.part === part)) {
      await form.getByLabel('Place').selectOption(line.place);
      await form.getByLabel('Part', { exact: true }).selectOption(part);
      await form.getByLabel('Lot, as printed on the pack').fill(line.lot ?? '');
      await form.getByLabel('Pieces').fill('0');
      const taken = page.waitForResponse((one) => one.url().endsWith('/api/facts'));
      await form.getByRole('button', { name: 'Record it' }).click();
      await taken;
      await expect.poll(() => form.getByLabel('Pieces').inputValue(), { timeout: 30_000 }).toBe('');
    }
    // The last answer is shown until the new one is reckoned.
    await expect.poll(async () => (await of(part)).onHand, { timeout: 30_000 }).toBe(0);
    const after = await of(part);
    expect(after.orderNow).toBeGreaterThan(before.orderNow);
    await page.getByText(/needs? to be ordered now/).waitFor({ timeout: 30_000 });
    expect(complaints).toEqual([]);
    await close();
  });

  it('records an order, a part delivery and that the rest will not come', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/load/stock`);
    const order = page.getByRole('form', { name: 'Record an order' });
    await order.waitFor({ timeout: 60_000 });
    const { branches } = await (await page.request.get(`${demo.url}/api/branches`)).json();
    await page.getByLabel('Branch').selectOption(branches[0].branch);
    const path = `/api/stock?branch=${encodeURIComponent(branches[0].branch)}`;
    const stock = async () => (await (await page.request.get(`${demo.url}${path}`)).json()).answer;
    const of = async (part: string) =>
      (await stock()).parts.find((one: { part: string }) => one.part === part);
    await expect.poll(async () => (await of('top-monitor'))?.onOrder, { timeout: 30_000 }).toBe(0);
    const before = await of('top-monitor');

    await order.getByLabel('Part').selectOption('top-monitor');
    await order.getByLabel('Pieces').fill('200');
    await order.getByLabel("Supplier's number or your own").fill('our 17');
    await order.getByRole('button', { name: 'Record an order' }).click();
    const line = page.locator('li', { hasText: 'reference our 17' });
    await line.getByText('200: top monitor').waitFor({ timeout: 30_000 });
    await expect.poll(async () => (await of('top-monitor'))?.onOrder, { timeout: 30_000 }).toBe(200);
    expect((await of('top-monitor')).orderNow).toBeLessThanOrEqual(before.orderNow);

    await line.getByText('Change the order of top monitor').click();
    await line.getByLabel('Pieces').fill('50');
    await line.getByRole('button', { name: 'Record it' }).click();
    await line.getByText('150 of 200: top monitor').waitFor({ timeout: 30_000 });
    await expect
      .poll(async () => (await of('top-monitor'))?.onHand, { timeout: 30_000 })
      .toBe(before.onHand + 50);

    await line.getByText('Correct', { exact: true }).click();
    await line.getByLabel('Expected on').fill('2099-01-01');
    await line.getByLabel('Why').fill('the supplier moved it');
    await line.getByRole('button', { name: 'Record it' }).click();
    await line.getByText('expected Jan 1, 2099').waitFor({ timeout: 30_000 });

    await line.getByText('The rest will not come').click();
    await line.getByLabel('Why').fill('no longer made');
    await line.getByRole('button', { name: 'Record it' }).click();
    await expect.poll(() => line.count(), { timeout: 30_000 }).toBe(0);
    await expect.poll(async () => (await of('top-monitor'))?.onOrder, { timeout: 30_000 }).toBe(0);
    // The demo's own late order says so.
    await page.getByText('It should have come.').first().waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('lets an owner ask for the round of another', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const { technicians } = await (await page.request.get(`${demo.url}/api/office`)).json();
    const { person } = technicians.find((one: { active: boolean }) => one.active);
    await page.goto(`${demo.url}/load`);
    await page.getByLabel('For', { exact: true }).selectOption('round');
    const asked = page.waitForResponse((one) => one.url().includes(`person=${encodeURIComponent(person)}`));
    await page.getByLabel('Who drives it').selectOption(person);
    expect((await asked).status()).toBe(200);
    await page.getByText('No round has been sent out for that day.').waitFor({ timeout: 30_000 });
    expect(complaints).toEqual([]);
    await close();
  });

  it('shows the load as the server says it, and is clean for axe-core', async () => {
    for (const size of ['desk', 'phone'] as const)
      for (const theme of ['light', 'dark'] as const) {
        const { page, close } = await openPage(browser, size, theme);
        for (const path of ['/load', '/load/stock']) {
          await page.goto(`${demo.url}${path}`);
          await page.locator('.summary').waitFor({ timeout: 60_000 });
          if (path === '/load') {
            const { answer } = await (await page.request.get(`${demo.url}/api/load?chance=5`)).json();
            const takes = await page.locator('tbody tr td:first-child').allTextContents();
            expect(takes.map((one) => Number(one.replaceAll(',', '')))).toEqual(
              answer.load.parts.map(({ take }: { take: number }) => take),
            );
          }
          const { violations } = await new AxeBuilder({ page }).analyze();
          expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
          const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
          expect(wide, `${path} ${size}`).toBeLessThanOrEqual(0);
          if (process.env['SHOTS'] !== undefined)
            await page.screenshot({
              path: `${process.env['SHOTS']}${path.replaceAll('/', '-')}-${size}-${theme}.png`,
              fullPage: true,
            });
          await page.emulateMedia({ media: 'print' });
          expect(await page.locator('.places').isVisible()).toBe(false);
          expect(await page.locator('.shell-who').isVisible()).toBe(false);
          expect(await page.locator('tbody tr').first().isVisible()).toBe(true);
          const ink = await page.evaluate<string>('getComputedStyle(document.body).color');
          expect(ink, `${path} ${theme} on paper`).toBe('rgb(20, 28, 24)');
          if (process.env['SHOTS'] !== undefined && size === 'desk' && theme === 'dark')
            await page.screenshot({ path: `${process.env['SHOTS']}${path.replaceAll('/', '-')}-paper.png` });
          await page.emulateMedia({ media: 'screen' });
        }
        await close();
      }
  });
});
