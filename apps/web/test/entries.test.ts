import { AxeBuilder } from '@axe-core/playwright';
import { ALWAYS_BAITED, type AnyFact } from '@sillwatch/trade';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { historyOf } from '../src/desk/property/history.ts';
import { correctionOf, draftOf } from '../src/desk/timeline/correction.ts';
import { addProperty, record } from './drawing/support.ts';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { getPlace, isFeeding } from './support/places.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

const NOTE: AnyFact = {
  id: '01900000-0000-7000-8000-000000000001',
  firm: 'f',
  property: 'p',
  station: null,
  by: 'a',
  device: 'd',
  seq: 1,
  at: '2026-03-04T09:30:00-05:00',
  clock: '001772634600000.00000',
  kind: 'note added',
  body: { text: 'Dog (invented)' },
};

function corrected(facts: readonly AnyFact[], change: Partial<ReturnType<typeof draftOf>>): AnyFact {
  const [entry] = historyOf(facts);
  if (entry === undefined) throw new Error('no entry');
  const result = correctionOf(entry, { ...draftOf(entry), why: 'slip', ...change });
  if (!result.ok) throw new Error(result.fault);
  const seq = facts.length + 1;
  const clock = `00177263460000${seq}.00000`;
  return { ...NOTE, id: `${NOTE.id}${seq}`, seq, clock, kind: 'fact corrected', body: result.body };
}

describe('a correction', () => {
  it('changes the note and leaves the day, then the day and leaves the note', () => {
    const first = corrected([NOTE], { note: 'Two dogs' });
    const second = corrected([NOTE, first], { day: '2026-03-02' });
    const third = corrected([NOTE, first, second], { note: 'Three dogs' });
    const [entry] = historyOf([NOTE, first, second, third]);
    expect(entry?.body).toEqual({ text: 'Three dogs' });
    expect(entry === undefined ? '' : draftOf(entry).day).toBe('2026-03-02');
    expect(entry?.corrections).toHaveLength(3);
  });

  it('brings a day back to what it was', () => {
    const moved = corrected([NOTE], { day: '2026-03-02' });
    const back = corrected([NOTE, moved], { day: '2026-03-04' });
    const days = [[NOTE], [NOTE, moved], [NOTE, moved, back]].map((facts) => historyOf(facts)[0]?.day);
    expect(days[2]).toBe(days[0]);
    expect(days[1]).not.toBe(days[0]);
    const again = historyOf([NOTE, moved, back])[0];
    expect(again === undefined ? '' : draftOf(again).day).toBe('2026-03-04');
  });

  it('is refused without a reason, without a day and without a change', () => {
    const [entry] = historyOf([NOTE]);
    if (entry === undefined) throw new Error('no entry');
    const draft = draftOf(entry);
    expect(correctionOf(entry, { ...draft, note: 'x' })).toEqual({ ok: false, fault: 'needWhy' });
    expect(correctionOf(entry, { ...draft, why: 'w', day: '' })).toEqual({ ok: false, fault: 'needDay' });
    expect(correctionOf(entry, { ...draft, why: 'w' })).toEqual({ ok: false, fault: 'needChange' });
  });

  it('withdraws, and what was said stays readable', () => {
    const [entry] = historyOf([NOTE, corrected([NOTE], { how: 'withdraw' })]);
    expect(entry?.body).toBeNull();
    expect(entry?.fact.body).toEqual({ text: 'Dog (invented)' });
  });
});

describe.skipIf(isChromiumMissing())('the timeline of a property', () => {
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

  it('shows a correction beside what it corrects, and is clean for axe-core in both themes', async () => {
    for (const theme of ['light', 'dark'] as const) {
      const { page, complaints, close } = await openPage(browser, 'phone', theme);
      const { property, station } = await getPlace(page, demo.url, isFeeding);
      await page.goto(`${demo.url}/properties/${property}`);
      await page.getByRole('link', { name: 'All entries' }).click();
      await page.getByLabel('Station', { exact: true }).selectOption(station);
      await page.getByLabel('Kind of entry').selectOption('station seen');
      const first = page.locator('.entry').first();
      await first.getByRole('button', { name: /^Correct: / }).press('Enter');
      await first.getByRole('button', { name: 'Record the correction' }).press('Enter');
      await first.locator('.field-error').waitFor();
      await first.getByLabel('Note', { exact: true }).fill(`Seen twice ${theme} (invented)`);
      await first.getByLabel('Why it is corrected').fill(`note ${theme} (invented)`);
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
      expect(
        await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth'),
      ).toBeLessThanOrEqual(0);
      await first.getByRole('button', { name: 'Record the correction' }).press('Enter');
      await first.getByText(`note ${theme} (invented)`).waitFor();
      await first.getByText(`“Seen twice ${theme} (invented)”`).waitFor();
      expect(complaints).toEqual([]);
      await close();
    }
  });

  it('corrects what was found and the bait by keys alone, names a legal field that is empty, and shows old beside new', async () => {
    for (const size of ['phone', 'desk'] as const) {
      const { page, complaints, close } = await openPage(browser, size, 'light');
      const { property, station } = await getPlace(page, demo.url, isFeeding);
      await page.goto(`${demo.url}/properties/${property}/entries`);
      await page.getByLabel('Station', { exact: true }).selectOption(station);
      await page.getByLabel('Kind of entry').selectOption('station seen');
      const baited = page.locator('.entry', { hasText: 'bait put in' }).first();
      await baited.getByRole('button', { name: /^Correct: / }).press('Enter');
      // Keys go on inside the form that took the button's place.
      await page.keyboard.press('Tab');
      await page.keyboard.press('ArrowDown');
      const form = page.locator('.entry form');
      await form
        .getByRole('radio', { name: /^What was found/ })
        .and(page.locator(':checked'))
        .waitFor();
      const grams = form.getByLabel('Amount of product, grams');
      const before = await grams.inputValue();
      const certificate = await form.getByLabel('Certification number').inputValue();
      await form.getByLabel('Certification number').fill('');
      await form.getByRole('button', { name: 'Record the correction' }).press('Enter');
      await form
        .getByRole('alert')
        .getByText('The use record is not complete: Certification number.')
        .waitFor();
      await form.getByLabel('Certification number').fill(certificate);
      await grams.fill(`${Number(before) + 7}`);
      await form
        .getByRole('group', { name: 'Housing and cap' })
        .getByRole('radio', { name: 'Loose' })
        .press('Space');
      await form.getByLabel('Why it is corrected').fill(`weighed again ${size} (invented)`);
      const ahead = form.getByRole('region', { name: 'What changes' });
      await ahead.getByText(`before: ${before}`, { exact: true }).waitFor();
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
      expect(
        await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth'),
      ).toBeLessThanOrEqual(0);
      await form.getByRole('button', { name: 'Record the correction' }).press('Enter');
      const corrected = page.locator('.entry', { hasText: `weighed again ${size} (invented)` });
      await corrected.getByText(`before: ${before}`, { exact: true }).waitFor();
      await corrected.getByText(`now: ${Number(before) + 7}`, { exact: true }).waitFor();
      // The form went with the button that was pressed; keys go on at the entry.
      expect(await page.evaluate<boolean>("document.activeElement?.closest('.entry') !== null")).toBe(true);
      const { text } = await readRecord(page, `${demo.url}/api/reports/applications?property=${property}`);
      expect(text).toContain(`weighed again ${size} (invented)`);
      expect(complaints).toEqual([]);
      await close();
    }
  });

  it('corrects the use record of bait that a station was set with, and the paper says both', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'light');
    const property = await addProperty(page, demo.url);
    await record(page, demo.url, property, 'structure added', {
      structure: 'house',
      name: 'House',
      foundation: 'slab',
      outline: null,
    });
    await record(
      page,
      demo.url,
      property,
      'station installed',
      {
        structure: 'house',
        number: 1,
        tag: null,
        model: ALWAYS_BAITED.id,
        position: null,
        auxiliary: false,
        visit: null,
        inserts: ALWAYS_BAITED.slots.map(({ id }) => ({ slot: id, insert: 'bait' as const })),
        application: {
          productName: 'Demo Bait (invented)',
          epaRegistrationNumber: '99999-999',
          grams: 150,
          location: 'Station 1, north wall',
          areaTreated: '1 station',
          site: 'Structure',
          applicatorName: 'Invented Applicator',
          certificationNumber: 'INV-9',
          appliedUnderSupervisionBy: null,
        },
      },
      `${property}-1`,
    );
    await page.goto(`${demo.url}/properties/${property}/entries`);
    await page.getByRole('button', { name: /^Correct: .*Station installed/ }).click();
    const form = page.locator('.entry form');
    await form.getByText('The use record of its bait').click();
    await form.getByLabel('Certification number').fill('');
    await form.getByRole('button', { name: 'Record the correction' }).click();
    await form
      .getByRole('alert')
      .getByText('The use record is not complete: Certification number.')
      .waitFor();
    await form.getByLabel('Certification number').fill('INV-10');
    await form.getByLabel('Amount of product, grams').fill('142,5');
    await form
      .getByRole('region', { name: 'What changes' })
      .getByText('now: 142.5', { exact: true })
      .waitFor();
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    await form.getByLabel('Why it is corrected').fill('the certificate was the old one (invented)');
    await form.getByRole('button', { name: 'Record the correction' }).click();
    await page.locator('.entry').getByText('now: INV-10', { exact: true }).waitFor();
    const { text } = await readRecord(page, `${demo.url}/api/reports/applications?property=${property}`);
    for (const one of ['INV-9', 'INV-10', '142.5', 'the certificate was the old one (invented)'])
      expect(text).toContain(one);
    expect(complaints).toEqual([]);
    await close();
  });

  it('says what goes when nobody opened a station, and what the station is afterwards follows', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'dark');
    const { property, station } = await getPlace(page, demo.url, isFeeding);
    await page.goto(`${demo.url}/properties/${property}/entries`);
    await page.getByLabel('Station', { exact: true }).selectOption(station);
    await page.getByLabel('Kind of entry').selectOption('station seen');
    const last = page.locator('.entry').first();
    await last.getByRole('button', { name: /^Correct: / }).press('Enter');
    const form = page.locator('.entry form');
    await form.getByRole('radio', { name: /^What was found/ }).press('Space');
    await form.getByRole('radio', { name: 'Blocked' }).press('Space');
    await form.getByText('If nobody opened it, nothing was done in it').waitFor();
    await form.getByLabel('Why it is corrected').fill('wrong station (invented)');
    await form.getByRole('button', { name: 'Record the correction' }).press('Enter');
    await form.getByText('Say why it could not be opened.').first().waitFor();
    await form.getByLabel('Why it was not opened').fill('under a pallet (invented)');
    await form.getByText('Say why it could not be opened.').first().waitFor({ state: 'detached' });
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    await form.getByRole('button', { name: 'Record the correction' }).press('Enter');
    await page.getByText('now: Blocked', { exact: true }).waitFor();
    await expect
      .poll(async () => {
        const answer = await page.request.get(`${demo.url}/api/properties/${property}`);
        const { stations } = await answer.json();
        return stations.find((one: { station: string }) => one.station === station)?.missesInARow;
      })
      .toBe(1);
    await page.goto(`${demo.url}/properties/${property}/stations/${station}`);
    await page
      .getByText(/^Nobody could open it last time/)
      .first()
      .waitFor();
    expect(complaints).toEqual([]);
    await close();
  });
});

async function readRecord(page: Page, url: string): Promise<{ readonly text: string }> {
  const answer = await page.request.get(url);
  if (!answer.ok()) throw new Error(`${url}: ${answer.status()}`);
  return { text: await answer.text() };
}
