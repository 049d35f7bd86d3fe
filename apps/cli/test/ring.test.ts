import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { EMPTY_SITE, type Point, type Site, siteFromGeoJson, siteToGeoJson } from '@sillwatch/ring';
import { metres } from '@sillwatch/trade/units';
import { afterAll, describe, expect, it } from 'vitest';
import { run } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-ring-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (x: number, y: number): Point => ({ x, y });

/** An invented house of 12 by 9 m with a drive at one wall and a gate in the fence. */
const SITE: Site = {
  ...EMPTY_SITE,
  name: 'Invented house',
  georeference: { longitude: -80, latitude: 35 },
  structures: [
    {
      id: 'house',
      name: 'House',
      foundation: 'slab',
      outline: [at(0, 0), at(12, 0), at(12, 9), at(0, 9)],
      holes: [],
    },
  ],
  hardSurfaces: [
    { id: 'drive', kind: 'drive', outline: [at(1, -6), at(11, -6), at(11, -0.05), at(1, -0.05)] },
  ],
  fences: [{ id: 'fence', path: [at(-8, -10), at(20, -10)] }],
  gates: [{ id: 'front-gate', at: at(4, -10), widthMetres: metres(1) }],
};

function fileOf(name: string, site: Site): string {
  const file = join(folder, name);
  writeFileSync(file, JSON.stringify(siteToGeoJson(site)));
  return file;
}

const house = fileOf('house.geojson', SITE);
const LABEL = [
  '--spacing',
  '10 ft',
  '--nearest',
  '6 in',
  '--farthest',
  '2 ft',
  '--clear-of-treated',
  '2 ft',
  '--near-concern',
  '5 ft',
];

describe('sillwatch ring', () => {
  it('proposes a ring, names what the drive leaves unguarded, and writes the site with its stations', async () => {
    const out = join(folder, 'with-stations.geojson');
    const outcome = await run(['ring', 'propose', house, ...LABEL, '--out', out]);
    expect(outcome.err).toBe('');
    expect(outcome.code).toBe(1);
    expect(outcome.out).toMatch(/Unguarded: .* of the wall of house/);
    expect(outcome.out).toMatch(/hard surface drive/);
    expect(outcome.out).toMatch(/utilities located before any digging/);
    const written = siteFromGeoJson(readFileSync(out, 'utf8'));
    const count = Number(/^(\d+) stations/.exec(outcome.out)?.[1]);
    expect(written.ok && written.site.stations.length).toBe(count);
    // 42 m of wall, 10 ft apart, less the drive: more than 8 and fewer than 20.
    expect(count).toBeGreaterThan(8);
    expect(count).toBeLessThan(20);

    const proposed = JSON.parse((await run(['ring', 'propose', house, ...LABEL, '--json'])).out);
    const audited = JSON.parse((await run(['ring', 'audit', out, ...LABEL, '--json'])).out);
    expect(audited.stations.length).toBe(count);
    // The file holds degrees to a tenth of a millimetre: what was proposed leaves no more unguarded once it stands.
    expect(audited.unguardedMetres).toBeLessThan(proposed.unguardedMetres + 0.05);
  });

  it('says that the numbers are the label’s, and marks invented ones', async () => {
    const bare = await run(['ring', 'propose', house]);
    expect(bare.code).toBe(2);
    expect(bare.err).toMatch(/--spacing is missing[\s\S]*label in hand/);
    const wrong = await run(['ring', 'propose', house, ...LABEL, '--spacing', `5' 14"`]);
    expect(wrong.err).toContain(JSON.stringify(`5' 14"`));
    const invented = await run(['ring', 'propose', house, '--invented-rules']);
    expect(invented.out).toMatch(/invented demo profile, not a label/);
  });

  const ringed = fileOf('ringed.geojson', {
    ...SITE,
    stations: [at(-0.4, -0.4), at(12.4, -0.4), at(12.4, 9.4), at(6, 9.4), at(-0.4, 9.4)].map(
      (spot, index) => ({
        id: `s${index + 1}`,
        number: index + 1,
        at: spot,
      }),
    ),
  });

  it('audits a ring and says how to mend it', async () => {
    const outcome = await run(['ring', 'audit', ringed, ...LABEL]);
    expect(outcome.code).toBe(1);
    expect(outcome.out).toMatch(/add a station at/);
    const json = await run(['ring', 'audit', ringed, ...LABEL, '--json']);
    expect(JSON.parse(json.out)).toMatchObject({ stations: expect.any(Array), unguarded: expect.any(Array) });
  });

  it('walks from the gate through the stations that are due and back', async () => {
    const outcome = await run(['ring', 'walk', ringed, '--units', 'm', '--json']);
    const walk = JSON.parse(outcome.out);
    expect(outcome.code).toBe(0);
    expect(walk.isExact).toBe(true);
    expect([...walk.order].sort()).toEqual(['s1', 's2', 's3', 's4', 's5']);
    const due = await run(['ring', 'walk', ringed, '--only', '3, 5', '--to', 'anywhere', '--json']);
    expect(JSON.parse(due.out).order).toEqual(['s5', 's3']);
    const text = await run(['ring', 'walk', ringed, '--only', '2', '--units', 'm']);
    // By hand: from (4,-10) to (12.4,-0.4) and back, nothing in the way: 2 x 12.756.
    expect(text.out).toMatch(/^25\.51 m through 1 station, the shortest there is/);
  });

  it('draws the diagram', async () => {
    const out = join(folder, 'house.svg');
    expect(
      await run([
        'ring',
        'diagram',
        ringed,
        '--scale',
        '1:100',
        '--contrast',
        'high',
        '--wall-lengths',
        '--out',
        out,
      ]),
    ).toMatchObject({ code: 0, out: '' });
    const svg = readFileSync(out, 'utf8');
    expect(svg).toMatch(/^<svg [^>]*width="215.9mm"/);
    expect(svg).toContain('39&#39; 4&quot;');
    const walked = join(folder, 'walk.svg');
    await run(['ring', 'walk', ringed, '--out', walked]);
    expect(readFileSync(walked, 'utf8')).toContain('<g class="walk">');
  });

  it('names what is wrong with the call, the file and the drawing, and where', async () => {
    expect(await run(['ring', 'dance', house])).toMatchObject({
      code: 2,
      err: expect.stringContaining('Use propose'),
    });
    expect(await run(['ring', 'walk', join(folder, 'none.geojson')])).toMatchObject({ code: 3 });
    expect(await run(['ring', 'walk', house])).toMatchObject({
      code: 2,
      err: expect.stringContaining('no stations'),
    });
    expect(await run(['ring', 'walk', ringed, '--only', '2,99'])).toMatchObject({
      code: 3,
      err: expect.stringContaining('no station 99'),
    });
    expect(await run(['ring', 'walk', ringed, '--from', 'back-gate'])).toMatchObject({
      code: 3,
      err: expect.stringContaining('front-gate'),
    });
    expect(await run(['ring', 'diagram', house, '--units', 'yd'])).toMatchObject({ code: 2 });
    const broken = join(folder, 'broken.geojson');
    writeFileSync(
      broken,
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"kind":"tower"},"geometry":{"type":"Point","coordinates":[1,2]}}]}',
    );
    expect((await run(['ring', 'diagram', broken])).err).toMatch(
      /features\[0\]\.properties\.kind: unknown kind, found tower/,
    );
    const inside = fileOf('inside.geojson', { ...SITE, stations: [{ id: 's1', number: 1, at: at(6, 4) }] });
    expect((await run(['ring', 'audit', inside, ...LABEL])).err).toMatch(/s1: station inside structure, at /);
  });
});
