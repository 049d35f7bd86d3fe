import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { EMPTY_SITE, type Site, siteFromGeoJson, siteToGeoJson } from '@sillwatch/ring';
import { siteOf, stationMarkOf } from '@sillwatch/rounds';
import { assessClearance, DEMO_PROFILE, foldProperty, getDay, type PropertyState } from '@sillwatch/trade';
import { metres } from '@sillwatch/trade/units';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-ring-property-'));
const data = join(folder, 'data');
const inLedger = ['--data', data];
let properties: readonly PropertyState[] = [];

beforeAll(async () => {
  const demo = generateDemo({ seed: 7, today: getDay('2026-11-25'), properties: 8 });
  mkdirSync(data, { recursive: true });
  const ledger = await openLedger({ url: join(data, 'sillwatch.db') });
  await ledger.append('firm-demo', demo.facts, '2026-11-25T11:00:00Z');
  await ledger.close();
  properties = [...Map.groupBy(demo.facts, ({ property }) => property ?? '').entries()].flatMap(
    ([property, facts]) => (property === '' ? [] : [foldProperty(facts)]),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (x: number, y: number) => ({ x, y });

/** An invented house with a courtyard in a fenced yard; one of everything that a drawing can hold. */
const DRAWN: Site = {
  ...EMPTY_SITE,
  name: 'Invented',
  structures: [
    {
      id: 'drawn-house',
      name: 'Drawn house',
      foundation: 'slab',
      outline: [at(0, 0), at(20, 0), at(20, 14), at(0, 14)],
      holes: [[at(6, 5), at(6, 9), at(12, 9), at(12, 5)]],
    },
  ],
  hardSurfaces: [{ id: 'drive', kind: 'drive', outline: [at(3, -8), at(7, -8), at(7, 0), at(3, 0)] }],
  keepOuts: [
    { id: 'gas', kind: 'utility_line', path: [at(10, -8), at(10, 0)], clearanceMetres: metres(0.6) },
    { id: 'well', kind: 'well', at: at(25, 2), clearanceMetres: metres(2) },
    { id: 'old', kind: 'treated_soil', outline: [at(14, -2), at(17, -2), at(17, -1)] },
  ],
  plantings: [{ id: 'bed', kind: 'planting', outline: [at(21, 4), at(23, 4), at(23, 8)] }],
  concerns: [{ id: 'damp', kind: 'moisture', at: at(-0.5, 3), note: 'downspout' }],
  fences: [{ id: 'fence', path: [at(-6, -9), at(28, -9)] }],
  gates: [{ id: 'gate', at: at(-2, -9), widthMetres: metres(1) }],
  parking: at(5, -12),
};

function fileOf(name: string, site: Site): string {
  const file = join(folder, name);
  writeFileSync(file, JSON.stringify(siteToGeoJson(site), null, 2));
  return file;
}
async function readBack(property: string): Promise<Site> {
  const { out } = await run(['ring', 'read', property, ...inLedger]);
  const read = siteFromGeoJson(out);
  if (!read.ok) throw new Error(JSON.stringify(read.refusals));
  return read.site;
}

describe('a drawing stored for a property', () => {
  it('comes back unchanged, and stored again it is nothing new', async () => {
    const property = properties[5];
    if (property === undefined) throw new Error('the demo has properties');
    const id = property.property;
    const origin = property.body?.position ?? undefined;
    const file = fileOf('drawn.geojson', { ...DRAWN, georeference: origin });
    const stored = await run([
      'ring',
      'store',
      file,
      '--property',
      id,
      '--remove-missing',
      '--by',
      'lead',
      ...inLedger,
    ]);
    expect(stored.err).toBe('');
    expect(stored.out).toContain('Drawn house');
    const back = await readBack(id);
    const { stations: _, name: __, ...drawing } = back;
    const written = siteToGeoJson({ ...DRAWN, ...drawing, georeference: origin });
    const asked = siteToGeoJson({ ...DRAWN, georeference: origin });
    expect(written).toEqual(asked);
    // The stations that the demo set round its own house would stand inside this one: nobody would store that.
    const again = fileOf('again.geojson', { ...back, stations: [] });
    expect((await run(['ring', 'store', again, '--property', id, ...inLedger])).out).toContain(
      'Nothing on it is new.',
    );
  });

  it('is moved to the property’s own origin when its file counts from another', async () => {
    const property = properties[6];
    if (property?.body?.position == null) throw new Error('the demo has properties with a position');
    const { position } = property.body;
    // Ten thousandths of a degree north: 1.1 m on the ground.
    const elsewhere = { longitude: position.longitude, latitude: position.latitude + 0.00001 };
    const id = property.property;
    const file = fileOf('moved.geojson', { ...DRAWN, georeference: elsewhere });
    await run(['ring', 'store', file, '--property', id, '--remove-missing', ...inLedger]);
    expect((await readBack(id)).parking?.y).toBeCloseTo(-12 + 1.11, 1);
  });

  it('moves no station unless it is said why, and records none that was never set', async () => {
    const property = properties[7];
    const station = property?.stations.find(({ position, inService }) => inService && position !== null);
    if (property === undefined || station?.position == null) throw new Error('the demo has drawn stations');
    const site = siteOf(property);
    const spot = at(station.position[0] + 0.3, station.position[1] - 60);
    const file = fileOf('station.geojson', {
      ...site,
      stations: [
        { id: station.station, number: station.number, at: spot, structureId: station.structure },
        { id: 'never-set', number: 99, at: at(spot.x + 5, spot.y) },
      ],
    });
    const call = ['ring', 'store', file, '--property', property.property, ...inLedger];
    const left = await run(call);
    expect(left.out).toMatch(/stands elsewhere on the drawing and was left/);
    expect(left.out).toMatch(/1 stations of the drawing are not this property's/);
    const moved = await run([...call, '--move-stations', 'measured anew, invented']);
    expect(moved.out).toContain(`station ${station.number} moved`);
    const back = (await readBack(property.property)).stations.find(({ id }) => id === station.station);
    expect(back?.at.y).toBeCloseTo(spot.y, 3);
  });

  it('says what is missing', async () => {
    const file = fileOf('bare.geojson', DRAWN);
    expect(await run(['ring', 'store', file, ...inLedger])).toMatchObject({
      code: 2,
      err: expect.stringContaining('--property is missing'),
    });
    expect(await run(['ring', 'store', file, '--property', 'nobody’s', ...inLedger])).toMatchObject({
      code: 3,
    });
    expect(await run(['ring', 'read', 'nobody’s', ...inLedger])).toMatchObject({ code: 3 });
  });
});

describe('the ring of a property', () => {
  it('is drawn with the true state of every station, and goes to PDF too', async () => {
    const state = properties.find(({ stations }) =>
      stations.some(
        ({ phase, inService, position }) => phase === 'feeding' && inService && position !== null,
      ),
    );
    if (state === undefined) throw new Error('the demo has a feeding station');
    const svg = (await run(['ring', 'diagram', state.property, ...inLedger])).out;
    for (const one of state.stations) {
      if (!one.inService || one.position === null) continue;
      const mark = stationMarkOf(assessClearance(one, DEMO_PROFILE)).replaceAll(' ', '-');
      expect(svg).toContain(`class="station ${mark}" data-station="${one.station}"`);
    }
    expect(svg).toContain('class="station feeding"');
    const pdf = join(folder, 'diagram.pdf');
    await run(['ring', 'diagram', state.property, '--scale', '200', '--out', pdf, ...inLedger]);
    expect(readFileSync(pdf, 'latin1').slice(0, 5)).toBe('%PDF-');
    const spanish = (await run(['ring', 'diagram', state.property, '--lang', 'es-US', ...inLedger])).out;
    expect(spanish).toContain('comiendo cebo: no tocar');
    await run(['ring', 'diagram', state.property, '--lang', 'es-US', '--out', pdf, ...inLedger]);
    expect(readFileSync(pdf, 'latin1')).toContain('/Lang (es-US)');
  });

  it('is audited and planned by the property’s own label profile, which is named', async () => {
    const [, , property] = properties;
    const id = property?.property ?? '';
    const audit = await run(['ring', 'audit', id, ...inLedger]);
    expect(audit.out).toContain(`Rules: the label profile ${DEMO_PROFILE.name}, which is invented.`);
    const own = await run(['ring', 'propose', id, '--json', ...inLedger]);
    const named = await run(['ring', 'propose', id, '--json', '--invented-rules', ...inLedger]);
    expect(JSON.parse(own.out)).toEqual(JSON.parse(named.out));
  });

  it('is walked through what is due, through all, or through some, from where the truck stands', async () => {
    const id = properties[0]?.property ?? '';
    const all = await run(['ring', 'walk', id, '--all', '--json', ...inLedger]);
    const walk = JSON.parse(all.out);
    expect(walk.start.from).toEqual({ kind: 'parking' });
    const standing = properties[0]?.stations.filter(
      ({ inService, position }) => inService && position !== null,
    );
    expect(walk.order.length + walk.unreachable.length).toBe(standing?.length);
    const number = standing?.[0]?.number ?? 0;
    const some = await run(['ring', 'walk', id, '--only', String(number), '--from', 'truck', ...inLedger]);
    expect(some.out).toMatch(/through 1 station/);
    const due = await run(['ring', 'walk', id, '--json', ...inLedger]);
    expect(due.code === 3 || JSON.parse(due.out).order.length <= walk.order.length).toBe(true);
  });
});
