import type { BranchPlan } from '@sillwatch/rounds';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { nextMonday, planFirstBranch } from './support/officeFacts.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('the map of a plan, and a plan that is not to be had', () => {
  let demo: Running;
  let browser: Browser;
  let id: string;
  let plan: BranchPlan;

  beforeAll(async () => {
    await buildScreens();
    [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
    const { page, close } = await openPage(browser, 'desk', 'light');
    id = await planFirstBranch(page, demo.url, { weeks: 4, iterations: 300, from: nextMonday() });
    ({ plan } = await (await page.request.get(`${demo.url}/api/plans/${id}`)).json());
    await close();
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.stop();
  });

  const marks = (page: Page): Promise<number> => page.locator('.map-stop-mark[data-visit]').count();
  const visitsOf = (rounds: BranchPlan['rounds']): number =>
    rounds.reduce((sum, { visits }) => sum + visits.length, 0);

  it('shows a day, a week or a technician, from the start to the end, and says who is who by shape and line', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/plan/${id}`);
    await page.locator('.map-stop-mark[data-visit]').first().waitFor();
    const [first] = plan.rounds;
    expect(await marks(page)).toBe(visitsOf(plan.rounds.filter(({ day }) => day === first?.day)));
    expect(await page.locator('.round-map .map-home').count()).toBeGreaterThan(0);

    await page.getByLabel('Shown on the map').selectOption('week');
    const days = await page.evaluate<string[]>(
      "[...document.querySelectorAll('.week-days [data-day]')].map(({ dataset }) => dataset.day)",
    );
    const inWeek = plan.rounds.filter(({ day }) => days.includes(day));
    expect(await marks(page)).toBe(visitsOf(inWeek));
    const people = new Set(inWeek.map(({ person }) => person));
    expect(await page.locator('.axis-legend .map-leg').count()).toBe(people.size);

    const person = first?.person ?? '';
    await page.getByLabel('Shown on the map').selectOption(person);
    expect(await marks(page)).toBe(visitsOf(plan.rounds.filter((round) => round.person === person)));
    expect(complaints).toEqual([]);
    await close();
  });

  it('points out the visit that the list points at, and opens the visit that is pressed on it, by keys too', async () => {
    const { page, close } = await openPage(browser, 'desk', 'dark');
    await page.goto(`${demo.url}/plan/${id}`);
    const round = plan.rounds.find(({ visits }) => visits.length > 1);
    const [one, two] = round?.visits ?? [];
    if (round === undefined || one === undefined || two === undefined)
      throw new Error('no round of two visits');
    await page.locator('.week-days').waitFor();
    const chip = page.locator(`.week-visit[data-visit="${one.visit}"]`);
    while (!(await chip.isVisible()))
      await page.getByRole('button', { name: 'Week after' }).click({ timeout: 3000 });
    await chip.click();
    const mark = (visit: string) => page.locator(`.map-stop-mark[data-visit="${visit}"]`);
    await expect.poll(() => mark(one.visit).getAttribute('class')).toMatch(/is-pointed/);
    await page.locator('.round-visits > li').nth(1).hover();
    await expect.poll(() => mark(two.visit).getAttribute('class')).toMatch(/is-pointed/);
    expect(await mark(one.visit).getAttribute('class')).not.toMatch(/is-pointed/);

    await mark(two.visit).focus();
    await page.keyboard.press('Enter');
    await expect
      .poll(() => page.locator('.round-visits > li').nth(1).getAttribute('class'))
      .toMatch(/is-picked/);
    expect(await page.evaluate<string>('document.activeElement.textContent')).toBe('Move');
    await close();
  });

  it('has letters of at least 12 pixels and marks that do not cover each other on a phone', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    await page.goto(`${demo.url}/plan/${id}`);
    await page.locator('.map-stop-mark[data-visit]').first().waitFor();
    const sizes = await page.evaluate<number[]>(
      "[...document.querySelectorAll('.round-map text')].map((text) => parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a)",
    );
    expect(sizes.length).toBeGreaterThan(0);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(12);
    const places = await page.evaluate<{ x: number; y: number }[]>(
      "[...document.querySelectorAll('.map-stop-mark[data-visit]')].map((mark) => ({ x: mark.getScreenCTM().e, y: mark.getScreenCTM().f }))",
    );
    places.forEach((a, index) => {
      for (const b of places.slice(index + 1)) expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(22);
    });
    await close();
  });

  it('says that a plan failed and why, in both languages, and where to begin again', async () => {
    for (const [locale, title, why, anew] of [
      ['en-US', 'The plan failed', 'The server failed while it searched; its log says why.', 'Plan anew'],
      [
        'es-US',
        'El plan falló',
        'El servidor falló mientras buscaba; su registro dice por qué.',
        'Planear de nuevo',
      ],
    ] as const) {
      const context = await browser.newContext({ viewport: { width: 390, height: 844 }, locale });
      const page = await context.newPage();
      await page.route(`**/api/plans/${id}*`, async (route) => {
        const answer = await route.fetch();
        const failed = {
          state: 'failed',
          plan: null,
          comparison: null,
          why: 'the server failed while planning',
        };
        await route.fulfill({ json: { ...(await answer.json()), ...failed } });
      });
      await page.goto(`${demo.url}/plan/${id}`);
      await page.getByText(title).waitFor();
      await page.getByText(why).waitFor();
      await page.getByRole('link', { name: anew }).click();
      await page.waitForURL(`${demo.url}/plan`);
      await context.close();
    }
  });

  it('goes on watching a search when the server was not to be reached for a while', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/plan`);
    await page.getByLabel('Search for').selectOption('5');
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByRole('heading', { name: /Searching|Waits for its turn/ }).waitFor();
    await page.route('**/api/plans/*', (route) => route.abort());
    await page
      .getByRole('alert')
      .getByText(/The server gives no answer/)
      .waitFor();
    await page.unroute('**/api/plans/*');
    await page.locator('.week-days').waitFor({ timeout: 60_000 });
    expect(await page.getByRole('alert').count()).toBe(0);
    await close();
  });
});
