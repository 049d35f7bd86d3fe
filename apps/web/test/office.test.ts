import { AxeBuilder } from '@axe-core/playwright';
import { DEMO_PROFILE, isLabelProfile } from '@sillwatch/trade';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { draftOf, emptyDraft, profileOfDraft } from '../src/desk/office/profileFields.ts';
import { office as en } from '../src/words/en.office.ts';
import { office as es } from '../src/words/es.office.ts';
import { isChromiumMissing, launchChromium, openPage } from './support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from './support/sillwatch.ts';

describe('the form of a label profile', () => {
  it('gives back the profile that it was filled from', () => {
    const back = profileOfDraft(draftOf(DEMO_PROFILE));
    expect(isLabelProfile(back)).toBe(true);
    expect(back).toEqual(DEMO_PROFILE);
  });

  it('guesses nothing: an empty one is refused in every place', () => {
    expect(isLabelProfile(profileOfDraft(emptyDraft('new')))).toBe(false);
  });
});

describe.skipIf(isChromiumMissing())('the office', () => {
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

  it('adds a person, whose one-time password is shown once', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/office/people`);
    const form = page.locator('section.sheet form');
    await form.getByLabel('Name').fill('Tam Reed (invented)');
    await form.getByLabel('E-mail').fill('tam@demo.invalid');
    await form.getByRole('button', { name: 'Add a person' }).click();
    await page.getByText('One-time password for Tam Reed (invented)').waitFor();
    expect(await page.locator('.one-time').textContent()).toMatch(/\S{10}/);
    await page.reload();
    await page.getByText('Tam Reed (invented)').waitFor();
    expect(await page.locator('.one-time').count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  });

  it('closes a branch for a day and takes it back', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/office/rounds`);
    await page.getByLabel('Who', { exact: true }).selectOption({ index: 1 });
    await page.getByLabel('From', { exact: true }).last().fill('2027-01-05');
    await page.getByLabel('Why').fill('Rain (invented)');
    await page.getByRole('button', { name: 'Enter', exact: true }).click();
    const line = page.locator('li', { hasText: 'Rain (invented)' });
    await line.waitFor();
    await line.getByRole('button', { name: 'Take back' }).click();
    await line.waitFor({ state: 'detached' });
    await close();
  });

  it('says in place what a label profile still needs, and keeps it once it is whole', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/office/profiles`);
    await page.getByRole('button', { name: 'Change' }).first().click();
    const yearly = page.getByRole('group', { name: 'Yearly service', exact: true });
    await yearly.getByLabel('last day: months').fill('3');
    await page.getByRole('button', { name: 'Save the profile' }).click();
    await yearly.locator('.field-error').waitFor();
    await yearly.getByLabel('last day: months').fill('15');
    await yearly.getByLabel('Where it stands').fill('Invented label, section 4');
    await page.getByRole('button', { name: 'Save the profile' }).click();
    await page.getByRole('button', { name: 'Enter a label profile' }).waitFor();
    const { profiles } = await (await page.request.get(`${demo.url}/api/profiles`)).json();
    expect(profiles[0].yearlyService.source).toBe('Invented label, section 4');
    await close();
  });

  it('takes over a spreadsheet: shows how it read it, what it would write, then writes it', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    await page.goto(`${demo.url}/office/import`);
    const sheet = [
      'Account,Property,Street,City,State,Zip,Station,Model,Installed,Mystery',
      'X-1,Otter house (invented),1 Pretend Lane,Nowhere Falls,ZZ,00000,1,two-part,2026-03-04,a',
      'X-1,Otter house (invented),1 Pretend Lane,Nowhere Falls,ZZ,00000,2,two-part,2026-03-04,b',
    ].join('\n');
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'book.csv', mimeType: 'text/csv', buffer: Buffer.from(sheet) });
    await page.getByRole('button', { name: 'Look at it' }).click();
    await page.getByRole('heading', { name: 'What each column is' }).waitFor();
    expect(await page.getByLabel('Mystery').inputValue()).toBe('');
    expect(await page.getByLabel('Station', { exact: true }).inputValue()).toBe('stationNumber');
    await page.getByLabel('branch', { exact: true }).selectOption({ index: 1 });
    await page.getByLabel('label profile', { exact: true }).selectOption({ index: 1 });
    await page.getByLabel('time zone', { exact: true }).selectOption('America/New_York');
    expect(await page.getByRole('button', { name: /^Write / }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Look at it' }).click();
    await page.getByText('It can be written').waitFor();
    await page.getByRole('button', { name: /^Write / }).click();
    await page.getByText(/entries written\./).waitFor();
    await page.goto(`${demo.url}/properties`);
    await page.getByRole('searchbox').fill('otter house');
    await page.getByText('Otter house (invented)').waitFor();
    await close();
  });

  it('lists what was imported before and takes it back with a reason; over later entries only when asked again', async () => {
    const { page, complaints, close } = await openPage(browser, 'phone', 'light');
    const sheetOf = (name: string): string =>
      [
        'Account,Property,Street,City,State,Zip,Station,Model,Installed',
        `${name},${name} house (invented),1 Pretend Lane,Nowhere Falls,ZZ,00000,1,two-part,2026-03-04`,
      ].join('\n');
    const { branches } = await (await page.request.get(`${demo.url}/api/branches`)).json();
    const { profiles } = await (await page.request.get(`${demo.url}/api/profiles`)).json();
    const mapping = {
      defaults: { branch: branches[0].branch, profile: profiles[0].id, timeZone: 'America/New_York' },
    };
    const bring = async (name: string): Promise<void> => {
      const answer = await page.request.post(`${demo.url}/api/imports?file=${name}.csv`, {
        multipart: {
          file: {
            name: `${name}.csv`,
            mimeType: 'text/csv',
            buffer: Buffer.from(sheetOf(name)),
          },
          mapping: JSON.stringify(mapping),
        },
        headers: { origin: demo.url },
      });
      expect(answer.status(), await answer.text()).toBe(200);
    };
    await bring('Heron');
    await page.goto(`${demo.url}/office/import`);
    const line = page.locator('.past-import').first();
    await line.getByText(/3 entries, by /).waitFor();
    await line.getByRole('button', { name: /^Take this import back/ }).click();
    expect(await line.getByRole('button', { name: 'Take this import back' }).isDisabled()).toBe(true);
    await line.getByLabel('Why it is taken back').fill('the wrong sheet');
    await line.getByRole('button', { name: 'Take this import back' }).click();
    // With its day; the question why stands there before anything is done.
    await line.getByText(/; taken back \w/).waitFor();
    await page.goto(`${demo.url}/properties`);
    await page.getByRole('searchbox').fill('heron');
    await page.getByText(/^0 of /).waitFor();

    await bring('Bittern');
    const [{ property }] = (await (await page.request.get(`${demo.url}/api/properties?text=Bittern`)).json())
      .properties;
    await page.goto(`${demo.url}/properties/${property}/hand-out`);
    await page.getByRole('button', { name: 'Make an address' }).click();
    await page.locator('.one-time').waitFor();
    await page.goto(`${demo.url}/office/import`);
    const leaned = page.locator('.past-import').first();
    await leaned.getByRole('button', { name: /^Take this import back/ }).click();
    await leaned.getByLabel('Why it is taken back').fill('the wrong sheet');
    await leaned.getByRole('button', { name: 'Take this import back' }).click();
    await leaned.getByText('Later entries lean on what it brought').waitFor();
    await leaned.getByRole('link', { name: `1 × Link made (Property ${property})` }).waitFor();
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    await leaned.getByRole('button', { name: 'Take it back all the same' }).click();
    await leaned.getByText(/; taken back \w/).waitFor();
    expect(complaints.filter((text) => !text.includes('409'))).toEqual([]);
    await close();
  });

  it('knows every field of the importer by a word of its own', async () => {
    const { page, close } = await openPage(browser, 'desk', 'light');
    const document = await (await page.request.get(`${demo.url}/openapi.json`)).json();
    const fields: readonly string[] =
      document.components.schemas.Import.properties.columns.items.properties.field.enum.filter(
        (field: unknown) => typeof field === 'string',
      );
    expect(fields.length).toBeGreaterThan(30);
    for (const words of [en, es]) {
      const known = Object.keys(words.imports.fields);
      expect(known.toSorted()).toEqual(fields.toSorted());
    }
    await close();
  });

  it.each(['people', 'rounds', 'profiles', 'parts', 'import'])('is clean for axe-core: %s', async (place) => {
    for (const theme of ['light', 'dark'] as const) {
      const { page, close } = await openPage(browser, 'phone', theme);
      await page.goto(`${demo.url}/office/${place}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await page.waitForTimeout(400);
      if (place === 'profiles') await page.getByRole('button', { name: 'Change' }).first().click();
      if (place === 'rounds') await page.getByRole('button', { name: 'Change' }).first().click();
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
      const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
      expect(wide).toBeLessThanOrEqual(0);
      await close();
    }
  });
});
