import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe.skipIf(isChromiumMissing())('the plan', () => {
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

  it('is started, watched, changed by keys, held and sent out', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/plan`);
    await page.getByLabel('For how long').selectOption('6');
    await page.getByLabel('Search for').selectOption('5');
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByRole('heading', { name: /Searching|Waits for its turn/ }).waitFor();
    await page.locator('.week-round').first().waitFor({ timeout: 60_000 });

    await page.locator('.week-round').first().focus();
    await page.keyboard.press('Enter');
    const visit = page.locator('.round-visits > li').first();
    await visit.getByRole('button', { name: 'Move' }).press('Enter');
    // Refused: nobody drives on a Sunday. Asked of the server beforehand, so that the screen is held to its answer.
    const id = page.url().split('/').at(-1) ?? '';
    const { plan, version } = await (await page.request.get(`${demo.url}/api/plans/${id}`)).json();
    const [first, second] = plan.rounds;
    expect(second, 'the invented firm needs two rounds in six weeks').toBeDefined();
    const moveTo = async (day: string, person: string) => {
      await visit.getByLabel('To the day').fill(day);
      await visit.getByLabel('To whom').selectOption(person);
      await visit.getByRole('button', { name: 'What would that cost?' }).press('Enter');
      const answer = await page.request.post(`${demo.url}/api/plans/${id}/moves`, {
        headers: { origin: demo.url },
        data: { kind: 'try', visit: first.visits[0].visit, day, person, version },
      });
      return answer.status();
    };
    const sunday = new Date(`${first.day}T12:00:00Z`);
    sunday.setUTCDate(sunday.getUTCDate() + ((7 - sunday.getUTCDay()) % 7 || 7));
    expect(await moveTo(sunday.toISOString().slice(0, 10), first.person)).toBe(422);
    await visit.getByRole('alert').waitFor();
    // Allowed or not, the screen says what the server says of the other round.
    const other = await moveTo(second.day, second.person);
    if (other === 200) await visit.getByText(/^(Saves|Costs) \d+ minutes? of driving/).waitFor();
    else await visit.getByRole('alert').waitFor();

    await visit.getByRole('button', { name: 'Hold here' }).press('Enter');
    await visit.getByText('Held: later plans leave it here.').waitFor();
    await page.getByRole('button', { name: 'Send the rounds out' }).press('Enter');
    // The button is used up; who came to it by keys stands at what came of it.
    await expect
      .poll(() => page.evaluate<boolean>("document.activeElement.matches('.office-part [role=status]')"))
      .toBe(true);
    await page.getByText(/sent out; phones fetch them/).waitFor();
    const { rounds } = await (
      await page.request.get(`${demo.url}/api/rounds?from=2026-01-01&to=2030-01-01`)
    ).json();
    expect(rounds.length).toBeGreaterThan(0);
    expect(
      rounds.some((round: { visits: { frozen: boolean }[] }) => round.visits.some(({ frozen }) => frozen)),
    ).toBe(true);
    await page.getByRole('heading', { name: 'Compared' }).waitFor();
    // The browser itself notes the refusal that was asked for.
    expect(complaints.filter((one) => !one.includes('status of 422'))).toEqual([]);
    await close();

    for (const size of ['desk', 'phone'] as const)
      for (const theme of ['light', 'dark'] as const) {
        const other = await openPage(browser, size, theme);
        await other.page.goto(`${demo.url}/plan`);
        await other.page.locator('main .due-row').first().click();
        await other.page.locator('.week-round').first().click();
        await other.page.locator('.round-visits').getByRole('button', { name: 'Move' }).first().click();
        const { violations } = await new AxeBuilder({ page: other.page }).analyze();
        expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
        const wide = await other.page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
        expect(wide).toBeLessThanOrEqual(0);
        await other.close();
      }
  });
});
