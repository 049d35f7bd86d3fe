import { AxeBuilder } from '@axe-core/playwright';
import type { BranchPlan } from '@sillwatch/rounds';
import type { TechnicianBody } from '@sillwatch/trade';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { nextMonday, planFirstBranch, recordOfFirm } from './support/officeFacts.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

/** A branch with far too little time: two technicians with three quarters of an hour a day, the others away. */
describe.skipIf(isChromiumMissing())('work that finds no room', () => {
  let demo: Running;
  let browser: Browser;
  let id: string;
  /** On the first day only. */
  let away: string;

  beforeAll(async () => {
    await buildScreens();
    [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
    const { page, close } = await openPage(browser, 'desk', 'light');
    const office = await (await page.request.get(`${demo.url}/api/office`)).json();
    const { branches } = await (await page.request.get(`${demo.url}/api/branches`)).json();
    const technicians: readonly TechnicianBody[] = office.technicians;
    // Another one is away in the demo already.
    const own = technicians.filter(({ branch }) => branch === branches[0].branch);
    const [one, two] = [own[0], own.at(-1)];
    const others = own.slice(1, -1);
    if (one === undefined || two === undefined) throw new Error('the demo has too few technicians');
    await recordOfFirm(
      page,
      demo.url,
      'technician set',
      [one, two].map((technician) => ({
        ...technician,
        hours: [1, 2, 3, 4, 5].map((weekday) => ({ weekday, from: '08:00', to: '08:45' })),
        mostOvertimeMinutes: 0,
        breakMinutes: 0,
      })),
    );
    const from = nextMonday();
    away = two.person;
    await recordOfFirm(page, demo.url, 'technician away', [
      { person: away, from, to: from, why: 'invented' },
      ...others.map(({ person }) => ({ person, from: '2000-01-01', to: '2099-12-31', why: 'invented' })),
    ]);
    id = await planFirstBranch(page, demo.url, { weeks: 1, iterations: 300, from });
    await close();
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.stop();
  });

  const read = async (page: Page): Promise<BranchPlan> =>
    (await (await page.request.get(`${demo.url}/api/plans/${id}`)).json()).plan;
  const visitsOf = ({ rounds }: BranchPlan): number =>
    rounds.reduce((sum, { visits }) => sum + visits.length, 0);

  it('is listed with its reason and what was tried; a remedy is looked at, priced, and done', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/plan/${id}`);
    const before = await read(page);
    expect(before.unplanned.length).toBeGreaterThan(0);
    const heading = page.getByRole('heading', { name: /^\d+ visits? in no round$/ });
    await heading.waitFor();
    const list = page.locator('section').filter({ has: heading });
    const lines = list.locator('.office-list > li');
    expect(await lines.count()).toBe(before.unplanned.length);
    const index = before.unplanned.findIndex(({ remedies }) =>
      remedies?.some(({ kind }) => kind === 'overtime'),
    );
    const wanted = before.unplanned[index]?.remedies?.find(({ kind }) => kind === 'overtime');
    if (wanted?.kind !== 'overtime') throw new Error('overtime must be a remedy here');
    const line = lines.nth(index);
    const words = new RegExp(`^Look at it: ${wanted.minutes} minutes? of overtime for `);
    await line
      .getByText(/\(\d+ minutes?\)|\([\d.,]+ h\)/)
      .first()
      .waitFor();
    await line.getByRole('button', { name: words }).press('Enter');
    // Asked at once: the lead has chosen already.
    await line
      .getByRole('status')
      .getByText(/of driving/)
      .waitFor();
    await line.getByText(/^Past the working hours: /).waitFor();
    await line.getByRole('button', { name: 'Put it there' }).press('Enter');
    await page
      .getByRole('status')
      .getByText(/is now with .+ on /)
      .waitFor();
    const after = await read(page);
    expect(visitsOf(after)).toBe(visitsOf(before) + 1);
    expect(after.unplanned.length).toBe(before.unplanned.length - 1);
    expect(after.broken.map(({ rule }) => rule)).toContain('past the working hours');
    expect(complaints).toEqual([]);
    await close();
  });

  it('is dragged into a round, and refused where nobody drives, in Spanish', async () => {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: 'es-US' });
    const page = await context.newPage();
    await page.goto(`${demo.url}/plan/${id}`);
    const before = await read(page);
    const grip = page.getByRole('button', { name: 'Poner en una ruta' }).first();
    await grip.waitFor();
    // The map above has taken its room.
    await page.waitForLoadState('networkidle');
    await grip.scrollIntoViewIfNeeded();
    const drop = async (person: string): Promise<void> => {
      const from = await grip.boundingBox();
      if (from === null) throw new Error('nothing to drag');
      await page.mouse.move(from.x + 20, from.y + 20);
      await page.mouse.down();
      await page.mouse.move(from.x + 40, from.y + 30, { steps: 3 });
      const cell = page.locator(`.drop-cell[data-person="${person}"]`).first();
      const to = await cell.boundingBox();
      if (to === null) throw new Error('no small grid');
      await page.mouse.move(to.x + 15, to.y + 15, { steps: 3 });
    };
    await drop(away);
    await page.locator('.drop-said').getByText('No se puede poner ahí: el técnico está ausente.').waitFor();
    await page.mouse.up();
    await page.getByRole('alert').getByText('No se puede poner ahí: el técnico está ausente.').waitFor();
    expect(visitsOf(await read(page))).toBe(visitsOf(before));

    const driver = before.people.find(({ person }) => person !== away)?.person ?? '';
    await grip.scrollIntoViewIfNeeded();
    await drop(driver);
    await page
      .locator('.drop-said')
      .getByText(/de manejar/)
      .waitFor();
    await page.mouse.up();
    await page.getByRole('dialog').getByRole('button', { name: 'Moverla de todos modos' }).click();
    await page.getByText(/está ahora con .+ el /).waitFor();
    expect(visitsOf(await read(page))).toBe(visitsOf(before) + 1);
    await context.close();
  });

  it('is clean for axe-core with a form open, at both sizes and in both themes', async () => {
    for (const size of ['desk', 'phone'] as const)
      for (const theme of ['light', 'dark'] as const) {
        const { page, close } = await openPage(browser, size, theme);
        await page.goto(`${demo.url}/plan/${id}`);
        await page
          .getByRole('button', { name: /^Look at it: / })
          .first()
          .click();
        for (const folded of await page.locator('main details > summary').all()) await folded.click();
        const { violations } = await new AxeBuilder({ page }).analyze();
        expect(violations.map(({ id: rule, nodes }) => `${rule}: ${nodes[0]?.html}`)).toEqual([]);
        const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
        expect(wide).toBeLessThanOrEqual(0);
        await close();
      }
  });
});
