import { AxeBuilder } from '@axe-core/playwright';
import type { BranchPlan } from '@sillwatch/rounds';
import ICAL from 'ical.js';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { nextMonday, planFirstBranch } from './support/officeFacts.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('what was sent out, and who reads along', () => {
  let demo: Running;
  let browser: Browser;
  const from = nextMonday();

  beforeAll(async () => {
    await buildScreens();
    [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.stop();
  });

  const readPlan = async (page: Page, id: string): Promise<BranchPlan> =>
    (await (await page.request.get(`${demo.url}/api/plans/${id}`)).json()).plan;
  const send = (page: Page, path: string, data: object = {}) =>
    page.request.post(`${demo.url}${path}`, { headers: { origin: demo.url }, data });

  it('says so when nothing was sent out', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/plan/sent`);
    await page.getByLabel('From the day').fill('2001-01-01');
    await page.getByText('Nothing was sent out for these days.').waitFor();
    // An emptied field is today, not an error.
    await page.getByLabel('From the day').fill('');
    await page.getByRole('heading', { level: 1, name: 'Sent out' }).waitFor();
    expect(await page.getByRole('alert').count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  });

  it('lists rounds by day and technician: what is held, what the last sending changed, what is not sent yet', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const id = await planFirstBranch(page, demo.url, { weeks: 4, iterations: 300, from });
    await send(page, `/api/plans/${id}/publish`);
    const plan = await readPlan(page, id);
    const round = plan.rounds.find(({ visits }) => visits.length > 1);
    const [visit] = round?.visits ?? [];
    if (round === undefined || visit === undefined) throw new Error('the demo needs a round of two visits');
    await page.goto(`${demo.url}/plan/sent`);
    await page.getByLabel('From the day').fill(round.day);
    const name = plan.people.find(({ person }) => person === round.person)?.name ?? '';
    const sheet = page.locator('.sent-round').filter({ hasText: name }).first();
    await sheet.getByText(`0 of ${round.visits.length} done`).waitFor();
    expect(await sheet.getByText(/New with the last sending/).count()).toBe(0);

    // Moved by a lead: phones do not know before it is sent out again, and the page says so.
    const to = await firstCell(page, id, plan, round.person, visit.visit);
    await send(page, `/api/plans/${id}/moves`, { kind: 'apply', visit: visit.visit, ...to });
    await page.reload();
    await page.getByText('A plan was changed after it was sent out.').waitFor();
    await send(page, `/api/plans/${id}/moves`, { kind: 'freeze', visits: [visit.visit] });
    await send(page, `/api/plans/${id}/publish`);
    await page.reload();
    await page.getByLabel('From the day').fill(round.day);
    const other = plan.people.find(({ person }) => person === to.person)?.name ?? '';
    await sheet.getByText(new RegExp(` went to ${other}, `)).waitFor();
    await sheet.getByText('It has been changed 1 time since it was first sent.').waitFor();
    expect(await page.getByText('A plan was changed after it was sent out.').count()).toBe(0);

    await page.getByLabel('From the day').fill(to.day);
    await page.getByLabel('Technician').selectOption(to.person);
    await page.locator('.sent-round').filter({ hasText: '1 held' }).first().waitFor();
    const ofOthers = page.locator('.sent-round').filter({ hasText: name }).locator('visible=true');
    await expect.poll(() => ofOthers.count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  });

  it('makes a calendar for a technician, tells that it is read, and withdraws it', async () => {
    const context = await browser.newContext({
      viewport: { width: 1440, height: 900 },
      locale: 'en-US',
      permissions: ['clipboard-read', 'clipboard-write'],
    });
    const page = await context.newPage();
    await page.goto(`${demo.url}/plan/calendars`);
    const part = page
      .locator('section')
      .filter({ has: page.getByRole('heading', { name: 'Rounds of technicians' }) });
    await part.getByText('No address has been made, or all were withdrawn.').waitFor();
    await part.getByLabel('Whose rounds').selectOption({ index: 1 });
    await part.getByRole('button', { name: 'Make an address' }).click();
    const url = (await part.locator('.one-time').textContent()) ?? '';
    await part.getByRole('button', { name: 'Copy the address' }).click();
    await part.getByRole('button', { name: 'Copied' }).waitFor();
    expect(await page.evaluate<string>('navigator.clipboard.readText()')).toBe(url);
    await part.getByText(/not opened so far/).waitFor();

    const feed = await fetch(url);
    expect(feed.status).toBe(200);
    const calendar = new ICAL.Component(ICAL.parse(await feed.text()));
    expect(calendar.name).toBe('vcalendar');
    await expect
      .poll(async () => {
        await page.reload();
        await part.getByRole('button', { name: /^Withdraw: / }).waitFor();
        return part.getByText(/last opened \d{4}-\d{2}-\d{2} \d{2}:\d{2}/).isVisible();
      })
      .toBe(true);
    // The secret is seen once.
    expect(await part.locator('.one-time').count()).toBe(0);

    await part.getByRole('button', { name: /^Withdraw: / }).press('Enter');
    await part.getByText('Withdrawn: from now on it opens nothing.').waitFor();
    expect((await fetch(url)).status).toBe(404);
    await context.close();
  });

  it('makes a calendar for a customer, found by the beginning of the name', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'dark');
    const { properties } = await (await page.request.get(`${demo.url}/api/properties?limit=1000`)).json();
    const [{ name, town }] = properties;
    await page.goto(`${demo.url}/plan/calendars`);
    const field = page.getByRole('combobox', { name: 'Property' });
    await field.fill('no such house');
    await page.getByText('No property has this name.').waitFor();
    await field.fill(`${name}, ${town}`.toUpperCase());
    await page.getByRole('link', { name: `${name}, ${town}` }).waitFor();
    const part = page
      .locator('section')
      .filter({ has: page.getByRole('heading', { name: 'Secret addresses' }) })
      .last();
    expect(await part.getByLabel('What it shows').inputValue()).toBe('property calendar');
    await part.getByLabel('Days until it ends').fill('');
    await part.getByRole('button', { name: 'Make an address' }).click();
    const url = (await part.locator('.one-time').textContent()) ?? '';
    expect(url).toMatch(/calendar\.ics$/);
    await part.getByText(/A calendar of the next visits, until withdrawn/).waitFor();
    const calendar = new ICAL.Component(ICAL.parse(await (await fetch(url)).text()));
    expect(calendar.getAllSubcomponents('vevent').length).toBeGreaterThan(0);
    // Neither nonsense nor too much comes to mean an address without end.
    for (const days of ['0', '1.5', '1101']) {
      await part.getByLabel('Days until it ends').fill(days);
      await part.getByRole('button', { name: 'Make an address' }).click();
      expect(await part.locator('input:invalid').count(), days).toBe(1);
    }
    expect(await part.getByRole('button', { name: /^Withdraw: / }).count()).toBe(1);
    expect(complaints).toEqual([]);
    await close();
  });

  it.each(['/plan', '/plan/sent', '/plan/calendars'])('is clean for axe-core: %s', async (path) => {
    for (const size of ['desk', 'phone'] as const)
      for (const theme of ['light', 'dark'] as const) {
        const { page, close } = await openPage(browser, size, theme);
        await page.goto(`${demo.url}${path}`);
        await page.getByRole('heading', { level: 1 }).waitFor();
        if (path === '/plan/sent') await page.getByLabel('For how long').selectOption('28');
        await page.waitForLoadState('networkidle');
        const { violations } = await new AxeBuilder({ page }).analyze();
        expect(violations.map(({ id: rule, nodes }) => `${rule}: ${nodes[0]?.html}`)).toEqual([]);
        const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
        expect(wide).toBeLessThanOrEqual(0);
        await close();
      }
  });

  /** A cell of another technician that the server takes the visit in. */
  async function firstCell(page: Page, id: string, plan: BranchPlan, not: string, visit: string) {
    for (const { day } of plan.rounds)
      for (const { person } of plan.people.filter((one) => one.person !== not)) {
        const answer = await send(page, `/api/plans/${id}/moves`, { kind: 'try', visit, day, person });
        if (answer.ok()) return { day, person };
      }
    throw new Error('nobody can take the visit');
  }
});
