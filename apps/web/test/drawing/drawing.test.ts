import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage, SIZES } from '../support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from '../support/sillwatch.ts';
import {
  addProperty,
  getDrawn,
  getStored,
  openDrawing,
  rounded,
  showPanel,
  store,
  typeWalls,
} from './support.ts';

const FOOT = 0.3048;

describe.skipIf(isChromiumMissing())('drawing a property', () => {
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

  it('is drawn by hand: corners pressed, a corner dragged, undone, stored, and shown on the property', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    const picture = await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Draw: structure' }).click();
    const box = await picture.boundingBox();
    if (box === null) throw new Error('the picture is shown');
    const at = (x: number, y: number) => ({ x: box.x + box.width * x, y: box.y + box.height * y });
    const press = async (x: number, y: number) => {
      const to = at(x, y);
      await page.mouse.move(to.x, to.y, { steps: 3 });
      await page.mouse.down();
      await page.mouse.up();
    };
    await press(0.3, 0.6);
    // A wall is dragged out as well as pressed.
    const second = at(0.7, 0.604);
    await page.mouse.down();
    await page.mouse.move(second.x, second.y, { steps: 5 });
    await page.mouse.up();
    await press(0.703, 0.3);
    await press(0.3, 0.302);
    await page.getByText('4 corners').waitFor();
    await press(0.3, 0.6);
    await page.getByRole('button', { name: 'Select: Corner 4 of House' }).waitFor();
    await store(page);
    const drawn = await getStored(page, demo.url, property);
    const outline = drawn.structures[0]?.outline ?? [];
    expect(drawn.structures[0]?.name).toBe('House');
    expect(outline).toHaveLength(4);
    // Guides made it square: two corners share each x and each y.
    expect(new Set(rounded(outline).map(([x]) => x)).size).toBe(2);
    expect(new Set(rounded(outline).map(([, y]) => y)).size).toBe(2);

    await showPanel(page, 'Draw');
    const handle = page.locator('.draw-handle').nth(2);
    const corner = await handle.boundingBox();
    if (corner === null) throw new Error('the corner has a handle');
    await page.mouse.move(corner.x + corner.width / 2, corner.y + corner.height / 2);
    await page.mouse.down();
    await page.mouse.move(corner.x + 60, corner.y - 30, { steps: 6 });
    await page.mouse.up();
    await page.getByText('Not stored yet').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => page.getByText('Not stored yet').count()).toBe(0);
    await page.goto(`${demo.url}/properties/${property}`);
    await page.getByRole('link', { name: 'Edit the drawing' }).waitFor();
    // A house shows before its first station is set.
    await page.locator('.plan-sheet .drawn-structures').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('is drawn by typed lengths, its gap shown and spread, and survives a reload before it is stored', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Draw: structure' }).click();
    await page.getByLabel('Length of the next wall').fill('12 parsecs');
    await page.getByLabel('Length of the next wall').press('Enter');
    await page.getByText('A wall has no direction').waitFor();
    await page.getByLabel('Which way').selectOption('east');
    await typeWalls(page, `40'`);
    await typeWalls(page, `20' left`, `40' left`);
    // Half a foot too long: the tape did not come back to the corner.
    await page.reload();
    await page.getByText('4 corners').waitFor();
    await typeWalls(page, `20' 6" left`);
    await page.getByText(`The last corner is 6" from the first (1 in 241 of the way round).`).waitFor();
    await page.getByRole('button', { name: 'spread the gap' }).click();
    await page.getByRole('button', { name: 'Select: Corner 4 of House' }).waitFor();
    await page.reload();
    await page.getByText('Taken up again where you left it').waitFor();
    await store(page);
    const [house] = (await getStored(page, demo.url, property)).structures;
    const outline = house?.outline ?? [];
    expect(outline).toHaveLength(4);
    // Compass rule: of the gap of 6 in, the first wall takes 40 parts of 120.5.
    expect(outline[1]?.[1]).toBeCloseTo((0.5 * FOOT * 40) / 120.5, 6);
    await page.getByText('Nothing differs from what is stored.').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('keeps focus, and with it the keys, when a press takes away its own button', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    await openDrawing(page, demo.url, property);
    const focused = () => page.evaluate<string>('document.activeElement.textContent');
    await page.getByRole('button', { name: 'Draw: structure' }).press('Enter');
    await expect.poll(focused).toBe('Drawing: structure');
    await page.keyboard.press('Escape');
    await expect.poll(focused).toBe('What to draw');
    await page.getByRole('button', { name: 'Draw: structure' }).press('Enter');
    await page.getByLabel('Which way').selectOption('east');
    await typeWalls(page, `40'`, `20' left`, `40' left`);
    await page.getByRole('button', { name: /^Close with a wall of/ }).press('Enter');
    await expect.poll(focused).toBe('What to draw');
    await page.keyboard.press('Control+z');
    await expect.poll(() => page.getByRole('button', { name: 'Redo' }).isEnabled()).toBe(true);
    await page.keyboard.press('Control+Shift+z');
    await showPanel(page, 'Stations');
    await page.getByRole('button', { name: 'Propose stations' }).press('Enter');
    await page.getByRole('button', { name: /^Take over/ }).press('Enter');
    await expect.poll(focused).toBe('Stations');
    await showPanel(page, 'Store');
    await page.getByRole('button', { name: 'Store it' }).press('Enter');
    await page.getByText(/^Stored: /).waitFor();
    await expect.poll(focused).toBe('Store the drawing');
    // Only stations that nobody set are left: nothing more is announced as going to be recorded, once what is stored has come back.
    await expect.poll(() => page.getByText(/^This will be recorded/).count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  });

  it('takes a length that is typed while one points at where the wall goes', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    const picture = await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Draw: structure' }).click();
    const box = await picture.boundingBox();
    if (box === null) throw new Error('the picture is shown');
    const point = (x: number, y: number) =>
      page.mouse.move(box.x + box.width * x, box.y + box.height * y, { steps: 4 });
    await point(0.3, 0.6);
    await page.mouse.down();
    await page.mouse.up();
    const corners = page.locator('.draw-tools [role=status]');
    const type = async (length: string, count: string) => {
      await picture.focus();
      await page.keyboard.type(length);
      await page.keyboard.press('Enter');
      await expect.poll(() => corners.textContent()).toBe(count);
    };
    await point(0.6, 0.602);
    await type(`20'`, '2 corners');
    // Nearly straight up from the corner that came of it: the guide makes it square.
    const second = await page.locator('.draw-over .draw-handle').last().boundingBox();
    if (second === null) throw new Error('the corner is shown');
    await page.mouse.move(second.x + second.width / 2 + 4, second.y - 90, { steps: 4 });
    await type(`12' 6"`, '3 corners');
    await page.getByRole('button', { name: /^Close with a wall of/ }).click();
    await store(page);
    const outline = (await getStored(page, demo.url, property)).structures[0]?.outline ?? [];
    const [a, b, c] = outline;
    if (a === undefined || b === undefined || c === undefined) throw new Error('three corners');
    expect(b[0] - a[0]).toBeCloseTo(20 * FOOT, 6);
    expect(b[1] - a[1]).toBeCloseTo(0, 6);
    expect(c[0] - b[0]).toBeCloseTo(0, 6);
    expect(c[1] - b[1]).toBeCloseTo(12.5 * FOOT, 6);
    expect(complaints).toEqual([]);
    await close();
  });

  it('is drawn, changed and stored by keys alone', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    await openDrawing(page, demo.url, property);
    const reach = async (name: string) => {
      for (let count = 0; count < 150; count += 1) {
        await page.keyboard.press('Tab');
        const told = await page.evaluate<string>(
          "(document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.labels?.[0]?.textContent ?? document.activeElement?.textContent ?? '').trim()",
        );
        if (told === name) return;
      }
      throw new Error(`no key leads to ${name}`);
    };
    await reach('Draw: structure');
    await page.keyboard.press('Enter');
    await reach('Length of the next wall');
    await page.keyboard.type('12 m east, 8 m left, 12 m left');
    await page.keyboard.press('Enter');
    await reach(`Close with a wall of 26' 3"`);
    await page.keyboard.press('Enter');
    await reach('House');
    await reach('Select: Corner 2 of House');
    await page.keyboard.press('Enter');
    await reach('Length of the wall from here');
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('9 m');
    await page.keyboard.press('Enter');
    // The list keeps the corner; arrows on any of its buttons move it.
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('ControlOrMeta+z');
    await page.keyboard.press('ControlOrMeta+Shift+z');
    await page.keyboard.press('Escape');
    await page.locator('.draw-side > .choice').getByRole('radio', { name: 'Store' }).focus();
    await page.keyboard.press('Space');
    await reach('Store it');
    await page.keyboard.press('Enter');
    await page.getByText(/^Stored: /).waitFor();
    const [house] = (await getStored(page, demo.url, property)).structures;
    expect(rounded(house?.outline)).toEqual([
      [0, 0],
      [12.254, 0],
      [12, 9],
      [0, 9],
    ]);
    expect(complaints).toEqual([]);
    await close();
  });

  it('is drawn with a finger on a phone, and two fingers move only the view', async () => {
    const context = await browser.newContext({
      viewport: SIZES.phone,
      hasTouch: true,
      isMobile: true,
      locale: 'en-US',
    });
    const page = await context.newPage();
    const property = await addProperty(page, demo.url);
    const picture = await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Draw: structure' }).tap();
    await picture.scrollIntoViewIfNeeded();
    await page.evaluate("document.querySelector('.draw-sheet').scrollIntoView({ block: 'start' })");
    const box = await picture.boundingBox();
    if (box === null) throw new Error('the picture is shown');
    const at = (x: number, y: number) => ({ x: box.x + box.width * x, y: box.y + box.height * y });
    const device = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...touchPoints: { x: number; y: number }[]
    ) =>
      device.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: touchPoints.map((point, id) => ({ ...point, id })),
      });
    // The longer scale bar reads another length once the view is closer.
    const bars = () => page.locator('.draw-sheet text').allTextContents();
    const before = await bars();
    await touch('touchStart', at(0.4, 0.5));
    await touch('touchStart', at(0.4, 0.5), at(0.6, 0.5));
    await touch('touchMove', at(0.2, 0.5), at(0.8, 0.5));
    await touch('touchMove', at(0.1, 0.5), at(0.9, 0.5));
    await touch('touchEnd');
    await expect.poll(bars).not.toEqual(before);
    expect(await page.getByText(/^\d+ corners?$/).count()).toBe(0);
    await page.getByRole('button', { name: 'All of it' }).tap();
    // The first wall is dragged out, the other corners are tapped.
    await touch('touchStart', at(0.2, 0.7));
    await touch('touchMove', at(0.5, 0.7));
    await touch('touchMove', at(0.75, 0.7));
    await touch('touchEnd');
    await page.getByText('2 corners').waitFor();
    const third = at(0.75, 0.3);
    await page.touchscreen.tap(third.x, third.y);
    await page.getByText('3 corners').waitFor();
    await page.getByRole('button', { name: /^Close with a wall of/ }).tap();
    await page.getByRole('button', { name: 'Select: Corner 3 of House' }).waitFor();
    await context.close();
  });

  /** WCAG 2.2, 2.4.11: what has the focus is not hidden by what the author put over it. */
  it('keeps the picture in sight on a phone, and nothing under it that has the focus', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'light');
    await openDrawing(page, demo.url, await getDrawn(page, demo.url));
    await page.locator('.draw-chip').first().click();
    await page.getByRole('button', { name: 'Let go' }).focus();
    for (const step of ['Tab', 'Tab', 'Tab', 'Tab', 'Tab', ...Array.from({ length: 9 }, () => 'Shift+Tab')]) {
      await page.keyboard.press(step);
      const { focus, picture } = await page.evaluate<{ focus: number | null; picture: Edges }>(WHERE);
      expect(picture.top).toBeGreaterThanOrEqual(-1);
      expect(picture.bottom).toBeLessThanOrEqual(SIZES.phone.height);
      if (focus !== null) expect(focus).toBeGreaterThanOrEqual(picture.bottom - 1);
    }
    expect(complaints).toEqual([]);
    await close();
  });
});

interface Edges {
  readonly top: number;
  readonly bottom: number;
}
/** Where the upper edge of what has the focus lies (null above the panels), and the picture. */
const WHERE = `(() => {
  const { top, bottom } = document.querySelector('.draw-picture').getBoundingClientRect();
  const at = document.activeElement;
  const focus = at.closest('.draw-side') === null ? null : at.getBoundingClientRect().top;
  return { focus, picture: { top, bottom } };
})()`;
