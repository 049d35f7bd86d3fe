import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

/** Debian's poppler-utils and qpdf: independent readers of what was taken. */
const hasReaders = ['pdftotext', 'qpdf'].every((tool) => spawnSync(tool, ['--version']).error === undefined);
const ADDRESSES = ['worklist', 'record', 'bundle', 'labels', 'renewals', 'stations'] as const;

describe.skipIf(isChromiumMissing())('the papers page', () => {
  let demo: Running;
  let browser: Browser;
  let folder: string;
  beforeAll(async () => {
    await buildScreens();
    [demo, browser, folder] = await Promise.all([
      startSillwatch('demo', '--no-open'),
      launchChromium(),
      mkdtemp(join(tmpdir(), 'sillwatch-papers-')),
    ]);
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.stop();
    await rm(folder, { recursive: true, force: true });
  });

  async function take(page: Page, name: string, role: 'link' | 'button' = 'link'): Promise<string> {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole(role, { name }).click(),
    ]);
    const file = join(folder, download.suggestedFilename());
    await download.saveAs(file);
    return file;
  }

  function textOf(file: string): string {
    if (!hasReaders) return '';
    execFileSync('qpdf', ['--check', file]);
    return execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' });
  }

  it('prints labels of chosen stations from a place on the sheet, as the sentence says', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/papers/labels`);
    await page.getByLabel('Find a property').fill('Abernook');
    await page.getByLabel('Property', { exact: true }).selectOption({ index: 1 });
    await page.getByLabel('Stations', { exact: true }).fill('1-3, 5');
    await page.getByLabel('First free place on the sheet').fill('29');
    await page.getByText('4 labels on 2 sheets.').waitFor();
    expect(await page.locator('.label-filled').count()).toBe(2);
    const text = textOf(await take(page, 'Take the PDF'));
    if (hasReaders) {
      for (const number of [1, 2, 3, 5]) expect(text).toMatch(new RegExp(`Station ${number}\\b`));
      expect(text).not.toMatch(/Station 4\b/);
      expect(text.split('\f').length - 1).toBe(2);
    }
    await page.getByLabel('First free place on the sheet').fill('31');
    await page.getByText('A whole number from 1 to 30').waitFor();
    expect(await page.getByRole('link', { name: 'Take the PDF' }).count()).toBe(0);
    await page.getByLabel('First free place on the sheet').fill('1');
    await page.getByLabel('Stations', { exact: true }).fill('one');
    await page.getByText('Write numbers and spans').waitFor();
    await page.getByLabel('Stations', { exact: true }).fill('999');
    await page.getByText('There is no label to print').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('prints new tags on a sheet of own measures, which the browser keeps, and says what does not fit', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'light');
    await page.goto(`${demo.url}/papers/labels`);
    await page.getByText('new tags, before they go into the ground').click();
    await page.getByLabel('Letters before the number').fill('SW-');
    await page.getByLabel('First number').fill('0098');
    await page.getByLabel('How many').fill('2001');
    await page.getByText('A whole number from 1 to 2000').waitFor();
    await page.getByLabel('How many').fill('5');
    await page.getByText('Tags SW-0098 to SW-0102.').waitFor();
    await page.getByLabel('Labels', { exact: true }).selectOption('own');
    await page.getByText('Enter every measure first.').waitFor();
    const measures = [
      ['Sheet, width', '210'],
      ['Sheet, height', '297'],
      ['Labels across', '2'],
      ['Labels down', '2'],
      ['Label, width', '90,5'],
      ['Label, height', '60'],
      ['Left edge to the first label', '10'],
      ['Upper edge to the first label', '12.5'],
      ['From one label to the next, across', '80'],
      ['From one label to the next, down', '70'],
    ] as const;
    for (const [label, value] of measures) await page.getByLabel(label).fill(value);
    await page.getByText('5 labels on 2 sheets.').waitFor();
    // The labels of a row would overlap: the server says so, and nothing is taken.
    await page.getByRole('button', { name: 'Take the PDF' }).click();
    await page.getByRole('alert').getByText('the labels of a row overlap').waitFor();
    await page.getByLabel('From one label to the next, across').fill('1,250');
    await page.getByText('can be read two ways').waitFor();
    await page.getByLabel('From one label to the next, across').fill('95,25');
    const text = textOf(await take(page, 'Take the PDF', 'button'));
    if (hasReaders) {
      for (const tag of ['SW-0098', 'SW-0099', 'SW-0100', 'SW-0101', 'SW-0102']) expect(text).toContain(tag);
      expect(text.split('\f').length - 1).toBe(2);
    }
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    await page.reload();
    await page.getByLabel('Labels', { exact: true }).selectOption('own');
    expect(await page.getByLabel('Label, width').inputValue()).toBe('90,5');
    // The tags of a property go onto it too.
    await page.getByLabel('Find a property').fill('Abernook');
    await page.getByLabel('Property', { exact: true }).selectOption({ index: 1 });
    await page.getByLabel('Stations', { exact: true }).fill('1-3');
    await page.getByText('3 labels on 1 sheet.').waitFor();
    const own = textOf(await take(page, 'Take the PDF', 'button'));
    if (hasReaders) expect(own).toMatch(/Station 3\b/);
    expect(complaints.filter((one) => !one.includes('400'))).toEqual([]);
    await close();
  });

  it('says while a file is being written, and why it was refused', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    await page.goto(`${demo.url}/papers/record`);
    const files = /api\/reports\/applications.*format=pdf/;
    await page.route(files, async (route) => {
      await page.getByText('The file is being written.').waitFor();
      await route.fulfill({
        status: 503,
        contentType: 'application/problem+json',
        body: JSON.stringify({
          title: 'Busy',
          detail: 'Too many papers wait.',
          remedy: 'Ask again in a minute.',
        }),
      });
    });
    await page.getByRole('link', { name: 'Take the PDF' }).click();
    await page.getByRole('alert').getByText('Too many papers wait. Ask again in a minute.').waitFor();
    expect(await page.getByText('The file is being written.').count()).toBe(0);
    await page.unroute(files);
    expect(readFileSync(await take(page, 'Take the PDF'), 'latin1').slice(0, 5)).toBe('%PDF-');
    expect(await page.getByRole('alert').count()).toBe(0);
    await close();
  });

  it('counts the application record before it is taken, and takes what was counted', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/papers/record`);
    const said = page.locator('.paper-outcome .summary');
    await said.getByText(/applications at/).waitFor();
    const whole = Number(/^[\d,]+/.exec((await said.textContent()) ?? '')?.[0].replaceAll(',', ''));
    await page.getByLabel('From').fill(new Date(Date.now() - 30 * 86_400_000).toISOString().slice(0, 10));
    await expect.poll(() => said.textContent(), { timeout: 10_000 }).not.toContain(`${whole} applications`);
    const part = Number(/^[\d,]+/.exec((await said.textContent()) ?? '')?.[0].replaceAll(',', ''));
    expect(part).toBeLessThan(whole);
    const csv = readFileSync(await take(page, 'Take the table (CSV)'), 'utf8');
    expect(csv.trim().split('\r\n').length - 1).toBe(part);
    await page.getByLabel('Language of the paper').selectOption('es-US');
    const pdf = textOf(await take(page, 'Take the PDF'));
    if (hasReaders) expect(pdf).toContain('Registro');
    await page.getByLabel('Technician').fill('Nobody of this name');
    await page.getByText('No application is recorded for this.').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('gives the bundle, and says in words that nothing was changed', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'light');
    await page.goto(`${demo.url}/papers/bundle`);
    await page.getByRole('button', { name: 'Check every entry' }).click();
    await page.getByText(/^Nothing was changed: [\d,]+ entries checked/).waitFor();
    const seal = await page.locator('.paper-seal').textContent();
    const zip = unzipSync(readFileSync(await take(page, 'Take the bundle (ZIP)')));
    const manifest = JSON.parse(Buffer.from(zip['manifest.json'] ?? []).toString('utf8'));
    expect([manifest.scope, manifest.chain.head]).toEqual(['whole ledger', seal]);
    const file = join(folder, 'bundle.pdf');
    writeFileSync(file, zip['applications.pdf'] ?? new Uint8Array());
    if (hasReaders) expect(textOf(file)).toContain('Demo Bait');
    await page.getByLabel('With every entry of the firm').uncheck();
    const part = unzipSync(readFileSync(await take(page, 'Take the bundle (ZIP)')));
    expect(JSON.parse(Buffer.from(part['manifest.json'] ?? []).toString('utf8')).scope).toBe(
      'entries of the record',
    );
    expect(complaints).toEqual([]);
    await close();
  });

  it('shows the station inventory on the screen, and leads on to handing it out', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/papers/stations`);
    await page.getByLabel('Property', { exact: true }).selectOption({ index: 1 });
    await page.getByText(/^\d+ stations in service/).waitFor();
    await page.getByRole('button', { name: 'Look at it here' }).click();
    await page.frameLocator('iframe').getByRole('heading', { level: 1, name: 'Station list' }).waitFor();
    await page.getByRole('link', { name: 'Send or hand out' }).click();
    await page.getByRole('heading', { level: 1, name: 'Hand out' }).waitFor();
    await close();
  });

  it('lists whose agreement ends in a month, with the letter, and hands it out with the letter chosen', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    await page.goto(`${demo.url}/papers/renewals`);
    const count = Number(/^\d+/.exec((await page.locator('.summary').textContent()) ?? '')?.[0]);
    expect(await page.locator('.paper-letter').count()).toBe(count);
    // All of the month in one file, each in its customer's language unless one is chosen.
    const all = page.getByRole('link', { name: 'Take the PDF' });
    await page.getByLabel('Language of the letters').selectOption('es-US');
    await page.getByLabel('Printed on').selectOption('both');
    const asked = new URL((await all.getAttribute('href')) ?? '', demo.url);
    expect(Object.fromEntries(asked.searchParams)).toMatchObject({
      letters: 'es-US',
      sides: 'both',
      lang: 'en-US',
    });
    const month = await page.request.get(asked.href);
    expect([month.status(), month.headers()['content-type']]).toEqual([200, 'application/pdf']);
    const first = page.locator('.paper-letter').first();
    expect(await first.getByRole('link', { name: /PDF/ }).getAttribute('href')).toContain('lang=es-US');
    const letter = await page.request.get(
      `${demo.url}${await first.getByRole('link', { name: /PDF/ }).getAttribute('href')}`,
    );
    expect([letter.status(), letter.headers()['content-type']]).toEqual([200, 'application/pdf']);
    await first.getByRole('link', { name: /^Send or hand out/ }).click();
    expect(await page.getByLabel('Paper', { exact: true }).inputValue()).toBe('renewal letter');
    await page.goto(`${demo.url}/papers/renewals`);
    await page.getByLabel('Month in which the agreement ends').fill('2099-01');
    await page.getByText('No agreement ends in this month').waitFor();
    await close();
  });

  it('says which letters of a month cannot be written and what they lack, and when a list is cut short', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.route('**/api/renewals?*', async (route) => {
      const of = new URL(route.request().url()).searchParams.get('of');
      const row = {
        property: 'property-001',
        name: 'Abernook household',
        customer: '',
        renewsOn: '2026-12-09',
      };
      const rows = [{ ...row, lang: 'en-US', gaps: of === 'left out' ? ['no customer', 'no address'] : [] }];
      await route.fulfill({ json: { letters: 812, leftOut: 1, rows } });
    });
    await page.goto(`${demo.url}/papers/renewals`);
    await page.getByText('812 letters, the earliest first.').waitFor();
    await page.getByText('The list shows the first 200 of 812; the file holds all.').waitFor();
    await page.getByText('1 letter is not written: something is missing.').waitFor();
    await page.getByText('lacks: name of the customer, street or town').waitFor();
    await close();
  });

  it('opens for an inspector on the records, with the bundle and the check, and nothing to print or send', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    // What the server lets an inspector do is the role table's (apps/server/test/access.test.ts); here, what he is shown.
    await page.route('**/api/me', async (route) => {
      const answer = await route.fetch();
      await route.fulfill({ response: answer, json: { ...(await answer.json()), role: 'inspector' } });
    });
    await page.goto(`${demo.url}/papers`);
    await page.getByRole('heading', { level: 1, name: 'Records' }).waitFor();
    await page.getByText(/applications at/).waitFor();
    expect(await page.locator('.paper-choice a').allTextContents()).toEqual([
      'Application record',
      "Inspector's bundle",
      'Station inventory',
    ]);
    await page.getByRole('link', { name: 'Station inventory' }).click();
    await page.getByLabel('Property', { exact: true }).selectOption({ index: 1 });
    await page.getByText(/stations in service/).waitFor();
    expect(await page.getByRole('link', { name: 'Send or hand out' }).count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  });

  it('says what to do when a stored record was altered', async () => {
    const { page, close } = await openPage(browser, 'phone', 'light');
    await page.route('**/api/verify', (route) =>
      route.fulfill({ json: { sound: false, facts: 41, brokenAtSeq: 42, why: 'the hash does not match' } }),
    );
    await page.goto(`${demo.url}/papers/bundle`);
    await page.getByRole('button', { name: 'Check every entry' }).click();
    await page.getByText('Something was changed: entry 42 does not fit the one before it').waitFor();
    await page.getByText(/Keep a copy of the database as it is/).waitFor();
    await close();
  });

  it('says when too many papers are being drawn', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.route('**/api/reports/applications?*', (route) =>
      route.fulfill({
        status: 503,
        contentType: 'application/problem+json',
        body: JSON.stringify({ title: 'Too many papers are being drawn', status: 503, code: 'papers busy' }),
      }),
    );
    await page.goto(`${demo.url}/papers/record`);
    await page.getByRole('alert').getByText('Too many papers are being drawn').waitFor();
    await page.getByRole('button', { name: 'Try again' }).waitFor();
    await close();
  });

  it.each(['worklist', 'record', 'stations', 'labels', 'bundle'])(
    'writes a paper in the language of the screen until another is chosen: %s',
    async (paper) => {
      const { page, complaints, close } = await openPage(browser, 'desk', 'light');
      await page.goto(`${demo.url}/papers/${paper}`);
      const screen = page.locator('.language select');
      const english = page.getByLabel('Language of the paper');
      const spanish = page.getByLabel('Idioma del documento');
      expect(await english.inputValue()).toBe('en-US');
      await screen.selectOption('es');
      await expect.poll(() => spanish.inputValue()).toBe('es-US');
      if (paper === 'record') {
        const pdf = page.getByRole('link', { name: 'Descargar el PDF' });
        expect(await pdf.getAttribute('href')).toContain('lang=es-US');
      }
      await spanish.selectOption('en-US');
      await screen.selectOption('en');
      await english.waitFor();
      await screen.selectOption('es');
      await spanish.waitFor();
      expect(await spanish.inputValue()).toBe('en-US');
      expect(complaints).toEqual([]);
      await close();
    },
  );

  it('takes the work list of a round that was sent out, in the language asked for', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const me = await (await page.request.get(`${demo.url}/api/me`)).json();
    const { technicians } = await (await page.request.get(`${demo.url}/api/office`)).json();
    const { person, branch, name } = technicians[0];
    const visit = {
      visit: 'v-papers',
      property: 'property-001',
      startsAt: '2031-03-04T09:00:00-05:00',
      endsAt: '2031-03-04T09:30:00-05:00',
      driveMinutes: 10,
      driveMetres: 5000,
      works: [],
      asks: [],
      frozen: false,
    };
    const round = {
      id: '0190a3b0-0000-7000-8000-00000000d0c5',
      firm: me.firm.id,
      property: null,
      station: null,
      by: me.id,
      device: 'papers-test',
      seq: 1,
      at: '2026-11-25T08:00:00-05:00',
      clock: '001795000000000.00000',
      kind: 'round published',
      body: {
        plan: 'p',
        branch,
        person,
        day: '2031-03-04',
        startsAt: '2031-03-04T08:00:00-05:00',
        endsAt: '2031-03-04T12:00:00-05:00',
        breakMinutes: 0,
        travel: 'great circle',
        visits: [visit],
      },
    };
    const sent = await page.request.post(`${demo.url}/api/facts`, {
      data: { facts: [round] },
      headers: { origin: demo.url },
    });
    expect((await sent.json()).verdicts[0].verdict).toBe('accepted');
    await page.goto(`${demo.url}/papers/worklist`);
    await page.getByLabel('Day').fill('2031-03-04');
    await page.getByText('1 stop with work at 0 places, in driving order.').waitFor();
    const chosen = page.getByLabel('Technician').locator('option:checked');
    await expect.poll(() => chosen.textContent()).toBe(name);
    await page.getByLabel('Language of the paper').selectOption('es-US');
    await page.getByRole('button', { name: 'Look at it here' }).click();
    await page.frameLocator('iframe').getByText(name).first().waitFor();
    const text = textOf(await take(page, 'Take the PDF'));
    if (hasReaders) expect(text.replaceAll(/\s+/g, ' ')).toContain(name);
    expect(complaints).toEqual([]);
    await close();
  });

  it('says where there is no round, and keeps to the keyboard', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/papers`);
    await page.getByText('No round was sent out for this day').waitFor();
    await page.getByRole('link', { name: 'Work list of a day' }).focus();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByLabel('Product').waitFor();
    expect(await page.locator('[aria-current="page"]', { hasText: 'Application record' }).count()).toBe(1);
    await close();
  });

  it.each(ADDRESSES)('is clean for axe-core in both languages and nothing is cut off: %s', async (paper) => {
    for (const [size, theme, language] of [
      ['phone', 'light', 'es'],
      ['desk', 'dark', 'en'],
    ] as const) {
      const { page, complaints, close } = await openPage(browser, size, theme);
      await page.addInitScript(`localStorage.setItem('sillwatch language', '${language}')`);
      await page.goto(`${demo.url}/papers/${paper}`);
      await page
        .getByRole('heading', { level: 1, name: language === 'es' ? 'Documentos' : 'Papers' })
        .waitFor();
      await page.locator('.loading').first().waitFor({ state: 'detached' });
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
      const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
      expect(wide).toBeLessThanOrEqual(0);
      expect(complaints).toEqual([]);
      await close();
    }
  });
});
