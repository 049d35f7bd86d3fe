import { fileURLToPath } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import { siteFromGeoJson, siteToGeoJson } from '@sillwatch/ring';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isChromiumMissing, launchChromium, openPage } from '../support/chromium.ts';
import { buildScreens, type Running, startSillwatch } from '../support/sillwatch.ts';
import {
  addProperty,
  ask,
  getDrawn,
  getStored,
  openDrawing,
  placeAt,
  record,
  showPanel,
  store,
  typeWalls,
} from './support.ts';

const FOOT = 0.3048;
const SAMPLE = fileURLToPath(new URL('../../../../packages/ring/samples/l-house.geojson', import.meta.url));

describe.skipIf(isChromiumMissing())('what becomes of a drawing', () => {
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

  it('takes outlines from a file, says what is wrong with a bad one, proposes, takes over, audits and records', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'dark');
    const property = await addProperty(page, demo.url);
    await openDrawing(page, demo.url, property);
    await showPanel(page, 'File and place');
    const file = page.locator('input[type=file]');
    const buffer = Buffer.from(
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"kind":"castle"},"geometry":{"type":"Point","coordinates":[7,45]}}]}',
    );
    await file.setInputFiles({ name: 'bad.geojson', mimeType: 'application/geo+json', buffer });
    await page.getByText('bad.geojson was not brought in').waitFor();
    await page.getByText('At features[0].properties.kind, where castle stands').waitFor();
    await file.setInputFiles(SAMPLE);
    await page.getByText(/brought in from l-house.geojson/).waitFor();
    await page.getByText(/^The origin lies at latitude/).waitFor();

    await showPanel(page, 'Stations');
    await page.getByRole('button', { name: 'Propose stations' }).click();
    const proposed = page.locator('.draw-proposed li');
    await proposed.first().waitFor();
    const count = await proposed.count();
    expect(count).toBeGreaterThan(5);
    await proposed.first().getByRole('checkbox').uncheck();
    await page.getByRole('button', { name: `Take over ${count - 1} stations` }).click();
    await page.getByText(`${count - 1} stations taken over on the drawing.`).waitFor();
    await page.getByRole('button', { name: 'Audit the ring' }).click();
    await page.getByRole('heading', { name: 'Fewest changes that mend it' }).waitFor();
    await page.getByRole('button', { name: 'Do it on the drawing' }).first().click();
    await page.getByRole('button', { name: 'Audit the ring' }).click();
    await page
      .getByText('guards every wall that can be guarded')
      .or(page.getByText(/stations on the drawing/))
      .waitFor();

    // Nothing of the stations is recorded until somebody says that they were set.
    await store(page);
    expect((await getStored(page, demo.url, property)).stations).toEqual([]);
    await page.getByText('Not stored yet').waitFor();
    await page.getByRole('radio', { name: /Set in the ground/ }).check({ force: true });
    await page.getByRole('button', { name: 'Store it' }).click();
    await page.getByText('Give a day, today or before.').waitFor();
    await page.getByLabel('Day on which they were set').fill('2026-01-15');
    await page.getByRole('button', { name: 'Store it' }).click();
    await page.getByText(/^Stored: /).waitFor();
    await expect.poll(() => page.getByText('Not stored yet').count()).toBe(0);
    const stored = await getStored(page, demo.url, property);
    expect(stored.stations).toHaveLength(count);
    expect(stored.stations.map(({ number }) => number).toSorted((a, b) => a - b)).toEqual(
      Array.from({ length: count }, (_, index) => index + 1),
    );
    expect(new Set(stored.stations.map(({ installedOn }) => installedOn))).toEqual(new Set(['2026-01-15']));

    // One drawing for all: the property's page, its diagram, its GeoJSON.
    await page.goto(`${demo.url}/properties/${property}`);
    await page.locator('.plan-station').first().waitFor();
    expect(await page.locator('.plan-station').count()).toBe(count);
    const svg = await (await page.request.get(`${demo.url}/api/properties/${property}/diagram`)).text();
    expect(svg.match(/data-station=/g)).toHaveLength(count);
    const geo = await ask<object>(page, `${demo.url}/api/properties/${property}/site`);
    const read = siteFromGeoJson(JSON.stringify(geo));
    expect(read.ok && JSON.parse(JSON.stringify(siteToGeoJson(read.site)))).toEqual(geo);
    expect(complaints).toEqual([]);
    await close();
  });

  it('moves a standing station only with a reason, and never takes one away', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await getDrawn(page, demo.url);
    const before = await getStored(page, demo.url, property);
    await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Station 2', exact: true }).click();
    await page.keyboard.press('Delete');
    await page.getByText('This station stands in the ground.').waitFor();
    // A key that is held down is one step back.
    for (const _ of [1, 2, 3]) await page.keyboard.down('ArrowUp');
    await page.keyboard.up('ArrowUp');
    await page.keyboard.press('ControlOrMeta+z');
    await expect.poll(() => page.getByText('Not stored yet').count()).toBe(0);
    await page.keyboard.press('Shift+ArrowUp');
    // Escape lets go of what was typed before it lets go of the station.
    await page.getByLabel('North of the origin').fill('1 mile');
    await page.getByText('This is not a length.').waitFor();
    await page.getByLabel('North of the origin').press('Escape');
    await expect.poll(() => page.getByText('This is not a length.').count()).toBe(0);
    await page.getByLabel('North of the origin').waitFor();
    await showPanel(page, 'Store');
    await page.getByText(`Station 2: moved by 10"`).waitFor();
    await page.getByRole('button', { name: 'Store it' }).click();
    await page.getByText('Write why: it is kept with the record.').waitFor();
    await page.getByLabel('Why stations stand elsewhere').fill('Measured anew.');
    await page.getByRole('button', { name: 'Store it' }).click();
    await page.getByText('Stored: 1 entry.').waitFor();
    const after = await getStored(page, demo.url, property);
    const move = after.stations.flatMap(({ station, position }) => {
      const was = before.stations.find((one) => one.station === station)?.position;
      if (position == null || was == null) return [];
      return Math.hypot(position[0] - was[0], position[1] - was[1]) > 1e-9 ? [position[1] - was[1]] : [];
    });
    expect(move).toHaveLength(1);
    expect(move[0]).toBeCloseTo(0.254, 9);
    expect(complaints).toEqual([]);
    await close();
  });

  it('gives a place to a station that had none, and keeps its number from being given again', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    await record(page, demo.url, property, 'structure added', {
      structure: 'house',
      name: 'House',
      foundation: 'slab',
      outline: [
        [0, 0],
        [12, 0],
        [12, 8],
        [0, 8],
      ],
    });
    const unmeasured = {
      structure: 'house',
      number: 7,
      tag: null,
      model: 'two-part',
      position: null,
      auxiliary: false,
      visit: null,
      inserts: [],
      application: null,
    };
    await record(page, demo.url, property, 'station installed', unmeasured, 'station-of-old');
    await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Draw: structure' }).waitFor();
    await page.getByRole('combobox', { name: 'What to draw' }).selectOption('station');
    await page.getByRole('button', { name: 'Draw: station' }).click();
    await placeAt(page, '-2 ft', '3 ft');
    await page.getByRole('button', { name: 'Station 8, not set yet' }).waitFor();
    await page.getByRole('button', { name: 'Stop drawing' }).click();
    await page.getByRole('button', { name: 'Place station 7' }).click();
    await placeAt(page, '-2 ft', '12 ft');
    await page.getByRole('button', { name: 'Station 7', exact: true }).waitFor();
    await showPanel(page, 'Store');
    await page.getByText('Station 7: placed on the drawing').waitFor();
    await page.getByLabel('Why stations stand elsewhere').fill('Measured from the corner.');
    await page.getByRole('button', { name: 'Store it' }).click();
    await page.getByText('Stored: 1 entry.').waitFor();
    const { stations } = await getStored(page, demo.url, property);
    expect(stations.map(({ number }) => number)).toEqual([7]);
    expect(stations[0]?.position?.[1]).toBeCloseTo(12 * FOOT, 9);
    expect(complaints).toEqual([]);
    await close();
  });

  it('shows what somebody else stored meanwhile before anything of it is overwritten', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Draw: structure' }).click();
    await typeWalls(page, '12 m east, 8 m left, 12 m left, 8 m left');
    await page.getByRole('button', { name: 'Close with a wall' }).click();
    await store(page);
    const [house] = (await getStored(page, demo.url, property)).structures;
    if (house === undefined) throw new Error('it was stored');
    await showPanel(page, 'Draw');
    await page.getByLabel('Name').fill('Mine');
    await page.getByLabel('Name').press('Enter');
    // A colleague draws a drive and renames the house, too.
    await record(page, demo.url, property, 'structure added', {
      structure: house.structure,
      name: 'Theirs',
      foundation: 'slab',
      outline: house.outline,
    });
    await record(page, demo.url, property, 'site drawn', {
      hardSurfaces: [
        {
          id: 'drive',
          kind: 'drive',
          outline: [
            [2, -6],
            [5, -6],
            [5, 0],
            [2, 0],
          ],
        },
      ],
      keepOuts: [],
      plantings: [],
      concerns: [],
      fences: [],
      gates: [],
      parking: null,
    });
    await showPanel(page, 'Store');
    await page.getByRole('button', { name: 'Store it' }).click();
    await page.getByText('The stored drawing was changed meanwhile').waitFor();
    expect((await getStored(page, demo.url, property)).structures[0]?.name).toBe('Theirs');
    await page.getByText('drive: new').waitFor();
    await page.getByText('Theirs: changed').waitFor();
    await page.getByRole('button', { name: 'Take it into mine' }).click();
    await page.getByRole('button', { name: 'Store it' }).click();
    await page.getByText(/^Stored: /).waitFor();
    const merged = await getStored(page, demo.url, property);
    expect(merged.structures[0]?.name).toBe('Mine');
    expect(merged.site?.hardSurfaces.map(({ kind }) => kind)).toEqual(['drive']);
    expect(complaints).toEqual([]);
    await close();
  });

  it('is placed on the earth by two corners, with what is left over shown', async () => {
    const { page, complaints, close } = await openPage(browser, 'desk', 'light');
    const property = await addProperty(page, demo.url);
    await openDrawing(page, demo.url, property);
    await page.getByRole('button', { name: 'Draw: structure' }).click();
    // A wall of the geodesic from 33.75, -84.39 to 33.7503, -84.3896: 49.8079 m (GeographicLib).
    await typeWalls(page, '49.8079 m east, 8 m left, 49.8079 m left, 8 m left');
    await page.getByRole('button', { name: 'Close with a wall' }).click();
    await showPanel(page, 'File and place');
    await page.getByRole('radio', { name: 'two corners or more' }).check({ force: true });
    const corners = page.getByLabel('The corner');
    await corners.nth(1).selectOption({ index: 1 });
    const typed = [
      ['33.75', '-84.39'],
      ['33.7503', '-84.3896'],
    ] as const;
    for (const [index, [latitude, longitude]] of typed.entries()) {
      await page.getByLabel('Latitude').nth(index).fill(latitude);
      await page.getByLabel('Longitude').nth(index).fill(longitude);
    }
    await page.getByText(/turns by 41.9° to the left; 0" are left over/).waitFor();
    await page.getByRole('button', { name: 'Place the drawing' }).click();
    await page.getByText('The origin lies at latitude 33.7500000, longitude -84.3900000').waitFor();
    await store(page);
    const { body } = await getStored(page, demo.url, property);
    expect(body.position?.latitude).toBeCloseTo(33.75, 7);
    expect(complaints).toEqual([]);
    await close();
  });

  it('is clean for axe-core, scrolls nowhere sideways, and speaks Spanish, in each panel', async () => {
    for (const size of ['desk', 'phone'] as const)
      for (const theme of ['light', 'dark'] as const) {
        const { page, complaints, close } = await openPage(browser, size, theme);
        await openDrawing(page, demo.url, await getDrawn(page, demo.url));
        await page.locator('.draw-chip').first().click();
        await page.locator('.draw-corner').first().click();
        for (const panel of ['Draw', 'Stations', 'File and place', 'Store']) {
          await showPanel(page, panel);
          if (panel === 'Stations') await page.getByRole('button', { name: 'Propose stations' }).click();
          if (panel === 'Store') {
            await page.keyboard.press('Escape');
            await page.locator('.draw-sheet').focus();
          }
          const { violations } = await new AxeBuilder({ page }).analyze();
          expect(
            violations.map(({ id, nodes }) => `${panel} ${id}: ${nodes[0]?.html}`),
            `${size} ${theme}`,
          ).toEqual([]);
          const wide = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
          expect(wide, `${panel} ${size}`).toBeLessThanOrEqual(0);
        }
        await page.evaluate("localStorage.setItem('sillwatch language', 'es')");
        await page.reload();
        await page.getByRole('heading', { name: /^Plano de / }).waitFor();
        await page.getByRole('button', { name: 'Dibujar: estructura' }).waitFor();
        expect(complaints).toEqual([]);
        await close();
      }
  });
});
