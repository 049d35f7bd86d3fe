import { AxeBuilder } from '@axe-core/playwright';
import type { BranchPlan, MoveResult } from '@sillwatch/rounds';
import type { Browser, CDPSession, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { nextMonday, planFirstBranch } from './support/officeFacts.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

interface Cell {
  readonly day: string;
  readonly person: string;
}
interface Tried {
  readonly cell: Cell;
  readonly status: number;
  readonly move: MoveResult | undefined;
}
interface Answer {
  readonly version: number;
  readonly plan: BranchPlan;
}

const isHarmless = ({ move }: Tried): boolean =>
  move !== undefined && move.broken.length === 0 && move.due.standing === 'in its window';
const breaks = (tried: Tried): boolean => tried.move !== undefined && !isHarmless(tried);

describe.skipIf(isChromiumMissing())('a visit of the plan', () => {
  let demo: Running;
  let browser: Browser;
  let id: string;

  beforeAll(async () => {
    await buildScreens();
    [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
    const { page, close } = await openPage(browser, 'desk', 'light');
    id = await planFirstBranch(page, demo.url, { weeks: 6, iterations: 300, from: nextMonday() });
    await close();
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.stop();
  });

  const read = async (page: Page): Promise<Answer> =>
    (await page.request.get(`${demo.url}/api/plans/${id}`)).json();

  const post = (page: Page, data: object) =>
    page.request.post(`${demo.url}/api/plans/${id}/moves`, { headers: { origin: demo.url }, data });

  /** The first visit of the first round, and what the server says of it in every other cell of the cells given. */
  const tryCells = async (page: Page, visit: string, cells: readonly Cell[]): Promise<readonly Tried[]> => {
    const tried: Tried[] = [];
    for (const cell of cells) {
      const answer = await post(page, { kind: 'try', visit, ...cell });
      const { move } = await answer.json();
      tried.push({ cell, status: answer.status(), move: move ?? undefined });
    }
    return tried;
  };

  const cellsOn = (page: Page, selector: string): Promise<readonly Cell[]> =>
    page.evaluate(
      `[...document.querySelectorAll(${JSON.stringify(selector)})].map(({ dataset: { day, person } }) => ({ day, person }))`,
    );

  interface Case {
    readonly visit: string;
    readonly home: Cell;
    readonly good: Cell;
    readonly bad: Cell;
  }
  /** Looks through the weeks for a visit that has a harmless and a harmful cell in its own week, and opens that week. */
  const openCase = async (page: Page): Promise<Case> => {
    await page.goto(`${demo.url}/plan/${id}`);
    await page.locator('.week-days').waitFor();
    const { plan } = await read(page);
    for (;;) {
      const cells = await cellsOn(page, '.week-days [data-day]');
      const days = new Set(cells.map(({ day }) => day));
      for (const round of plan.rounds.filter(({ day }) => days.has(day)))
        for (const { visit } of round.visits) {
          const home = { day: round.day, person: round.person };
          const tried = await tryCells(
            page,
            visit,
            cells.filter(({ day, person }) => day !== home.day || person !== home.person),
          );
          const good = tried.find(isHarmless)?.cell;
          const bad = tried.find(breaks)?.cell;
          if (good !== undefined && bad !== undefined) {
            await page.locator('.week-days').scrollIntoViewIfNeeded();
            return { visit, home, good, bad };
          }
        }
      await page.getByRole('button', { name: 'Week after' }).click({ timeout: 2000 });
    }
  };
  const chipOf = (page: Page, visit: string): Locator => page.locator(`.week-visit[data-visit="${visit}"]`);

  const holderOf = ({ plan }: Answer, visit: string): Cell | undefined => {
    const round = plan.rounds.find(({ visits }) => visits.some((one) => one.visit === visit));
    return round === undefined ? undefined : { day: round.day, person: round.person };
  };
  const at = ({ day, person }: Cell): string => `[data-day="${day}"][data-person="${person}"]`;

  it('is dragged by mouse in the weeks: the cost shows over a cell, a harmless drop moves it, and it can be put back', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const { visit, home, good, bad } = await openCase(page);
    const before = await read(page);
    const chip = chipOf(page, visit);
    await drag(page, chip, [page.locator(`.week-days ${at(bad)}`), page.locator(`.week-days ${at(good)}`)]);
    const ghost = page.locator('.drag-ghost');
    await ghost.getByText(/^(Saves|Costs) \d+ minutes? of driving; .+ mi (fewer|more)/).waitFor();
    await ghost.getByText('Still inside its window.').waitFor();
    await page.mouse.up();
    await page.getByText(/is now with .+ on /).waitFor();
    expect(holderOf(await read(page), visit)).toEqual(good);

    await page.getByRole('button', { name: 'Put it back' }).click();
    await expect.poll(async () => holderOf(await read(page), visit)).toEqual(home);
    const order = (answer: Answer) => answer.plan.rounds.map(({ visits }) => visits.map((one) => one.visit));
    expect(order(await read(page))).toEqual(order(before));

    // Escape puts it back, and the button under the pointer is not pressed by letting go.
    const { version } = await read(page);
    await drag(page, chipOf(page, visit), [page.locator(`.week-days ${at(good)}`)]);
    await page.keyboard.press('Escape');
    await page.mouse.up();
    expect(await page.locator('.drag-ghost').isVisible()).toBe(false);
    expect((await read(page)).version).toBe(version);
    expect(complaints).toEqual([]);
    await close();
  });

  it('asks before it breaks a rule, and does nothing when one thinks better of it', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'dark');
    const { visit, bad } = await openCase(page);
    const before = await read(page);
    const target = page.locator(`.week-days ${at(bad)}`);
    await drag(page, chipOf(page, visit), [target]);
    await page.locator('.drag-ghost .says-late').first().waitFor();
    expect(await target.getAttribute('class')).toMatch(/breaks/);
    await page.mouse.up();
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id: rule, nodes }) => `${rule}: ${nodes[0]?.html}`)).toEqual([]);
    // What keeps things as they are has the focus.
    await page.keyboard.press('Enter');
    await dialog.waitFor({ state: 'detached' });
    expect((await read(page)).version).toBe(before.version);

    await drag(page, chipOf(page, visit), [target]);
    await page.mouse.up();
    await dialog.getByRole('button', { name: 'Move it all the same' }).click();
    await page.getByText(/is now with .+ on /).waitFor();
    expect(holderOf(await read(page), visit)).toEqual(bad);
    expect(complaints).toEqual([]);
    await close();
  });

  it('is dragged by finger out of the list of a round, over a small grid that comes along', async () => {
    const context = await browser.newContext({
      viewport: { width: 390, height: 844 },
      hasTouch: true,
      isMobile: true,
      locale: 'es-US',
    });
    const page = await context.newPage();
    await page.goto(`${demo.url}/plan/${id}`);
    await page.locator('.week-round').first().tap();
    const grip = page.locator('.move-grip').first();
    await grip.waitFor();
    await page.evaluate("document.querySelector('.move-grip').scrollIntoView({ block: 'center' })");
    const before = await read(page);
    const open = before.plan.rounds[0];
    const visit = open?.visits[0]?.visit ?? '';
    const finger = await context.newCDPSession(page);
    const start = await centreOf(grip);
    await touch(finger, 'touchStart', start);
    for (let step = 1; step <= 4; step += 1)
      await touch(finger, 'touchMove', { x: start.x - step * 8, y: start.y });
    await page.locator('.drop-board').waitFor();
    const cells = await cellsOn(page, '.drop-cell');
    const elsewhere = cells.filter((cell) => cell.day !== open?.day || cell.person !== open.person);
    const good = (await tryCells(page, visit, elsewhere)).find(({ move }) => move !== undefined);
    if (good === undefined) throw new Error('the demo must have a cell for the visit');
    const to = await centreOf(page.locator(`.drop-board ${at(good.cell)}`));
    for (let step = 1; step <= 5; step += 1)
      await touch(finger, 'touchMove', {
        x: start.x + ((to.x - start.x) * step) / 5,
        y: start.y + ((to.y - start.y) * step) / 5,
      });
    await page
      .locator('.drop-said')
      .getByText(/^(Ahorra|Cuesta) \d+ minutos? de manejar/)
      .waitFor();
    // Nothing floats over the cells and days of the grid.
    expect(await page.locator('.drag-ghost').isVisible()).toBe(false);
    await touch(finger, 'touchEnd');
    if (!isHarmless(good)) await page.getByRole('dialog').getByRole('button').last().tap();
    await page.getByText(/está ahora con .+ el /).waitFor();
    expect(holderOf(await read(page), visit)).toEqual(good.cell);
    await context.close();
  });

  it('is moved by keys alone, with the outcome said aloud', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/plan/${id}`);
    const chip = page.locator('.week-visit').first();
    await chip.waitFor();
    await chip.press('Enter');
    const before = await read(page);
    const visit = before.plan.rounds[0]?.visits[0]?.visit ?? '';
    // The visit that was meant has the focus, on the button that moves it.
    expect(await page.evaluate<string>('document.activeElement.textContent')).toBe('Move');
    await page.keyboard.press('Enter');
    const line = page.locator('.round-visits > li.is-picked');
    const days = [...new Set((await cellsOn(page, '.week-days [data-day]')).map(({ day }) => day))];
    const home = holderOf(before, visit);
    const cells = days.flatMap((day) => before.plan.people.map(({ person }) => ({ day, person })));
    const tried = await tryCells(
      page,
      visit,
      cells.filter((cell) => cell.day !== home?.day || cell.person !== home.person),
    );
    const other = tried.find(({ move }) => move !== undefined);
    if (other === undefined) throw new Error('the demo must have a cell for the visit');
    await line.getByLabel('To the day').fill(other.cell.day);
    await line.getByLabel('To whom').selectOption(other.cell.person);
    await line.getByRole('button', { name: 'What would that cost?' }).press('Enter');
    await line
      .getByRole('status')
      .getByText(/of driving/)
      .waitFor();
    await line.getByRole('button', { name: 'Move it' }).press('Enter');
    await page
      .getByRole('status')
      .getByText(/is now with .+ on /)
      .waitFor();
    expect(holderOf(await read(page), visit)).toEqual(other.cell);
    await close();
  });

  it('is shown as somebody else left it, without being asked for', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/plan/${id}`);
    await page.locator('.week-round').first().click();
    const visit = (await read(page)).plan.rounds[0]?.visits[0]?.visit ?? '';
    const line = page.locator('.round-visits > li').first();
    await line.getByRole('button', { name: 'Hold here' }).waitFor();
    expect((await post(page, { kind: 'freeze', visits: [visit] })).status()).toBe(200);
    await line.getByText('Held: later plans leave it here.').waitFor({ timeout: 20_000 });
    expect((await post(page, { kind: 'thaw', visits: [visit] })).status()).toBe(200);
    await close();
  });

  it('is left alone when somebody else has changed the plan: theirs is shown first', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    // The change is met by pressing, not by looking.
    await page.route('**/api/plans', (route) => route.abort());
    await page.goto(`${demo.url}/plan/${id}`);
    await page.locator('.week-visit').first().waitFor();
    await page.locator('.week-round').first().click();
    const seen = await read(page);
    const last = seen.plan.rounds.at(-1)?.visits.at(-1)?.visit ?? '';
    expect((await post(page, { kind: 'freeze', visits: [last] })).status()).toBe(200);
    const line = page.locator('.round-visits > li').first();
    await line.getByRole('button', { name: 'Hold here' }).click();
    await page.getByRole('alert').getByText('Somebody else changed the plan meanwhile.').waitFor();
    // The second press is about what is there now.
    await expect
      .poll(async () => {
        await line
          .getByRole('button', { name: 'Hold here' })
          .click({ timeout: 1000 })
          .catch(() => {});
        return line.getByText('Held: later plans leave it here.').isVisible();
      })
      .toBe(true);
    await close();
  });
});

it.skipIf(isChromiumMissing())('a plan that is not there says so, and where to go', async () => {
  const [demo, browser] = await Promise.all([startSillwatch('demo', '--no-open'), launchChromium()]);
  try {
    const { page, close } = await openPage(browser, 'phone', 'light');
    await page.goto(`${demo.url}/plan/no-such-plan`);
    await page.getByRole('alert').getByText('There is no such plan').waitFor();
    await page.getByRole('link', { name: 'Plan anew' }).click();
    await page.getByRole('button', { name: 'Plan', exact: true }).waitFor();
    await close();
  } finally {
    await browser.close();
    await demo.stop();
  }
});

async function centreOf(target: Locator): Promise<{ readonly x: number; readonly y: number }> {
  const box = await target.boundingBox();
  if (box === null) throw new Error('nothing to point at');
  return { x: box.x + box.width / 2, y: box.y + Math.min(box.height / 2, 20) };
}

/** Presses, draws past the tremble of a hand, and goes from one to the next; the button stays down. */
async function drag(page: Page, source: Locator, over: readonly Locator[]): Promise<void> {
  const { x, y } = await centreOf(source);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 5, y + 12, { steps: 3 });
  for (const target of over) {
    const to = await centreOf(target);
    await page.mouse.move(to.x, to.y, { steps: 4 });
  }
}

/** A finger as the browser's own input has it, so that `touch-action` counts. */
async function touch(
  finger: CDPSession,
  type: 'touchStart' | 'touchMove' | 'touchEnd',
  at?: { readonly x: number; readonly y: number },
): Promise<void> {
  await finger.send('Input.dispatchTouchEvent', {
    type,
    touchPoints: at === undefined ? [] : [{ ...at, id: 1 }],
  });
}
