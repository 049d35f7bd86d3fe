import { execFileSync, spawnSync } from 'node:child_process';
import { generateDemo } from '@sillwatch/demo';
import { siteFromGeoJson, siteToGeoJson } from '@sillwatch/ring';
import { DEMO_PROFILE, getDay } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HOUSE } from './support/examples.ts';
import {
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

/** Debian's poppler-utils, an independent reader. */
const hasPoppler = spawnSync('pdftotext', ['-v']).status === 0;
let server: TestServer;
let client: Client;

beforeAll(async () => {
  server = await startTestServer();
  const demo = generateDemo({ seed: 5, today: getDay('2026-11-25'), properties: 3 });
  await server.ledger.append(
    FIRM.id,
    demo.facts.map((fact) => ({ ...fact, firm: FIRM.id })),
    '2026-11-25T12:00:00Z',
  );
  await seedPerson(server, 'lead');
  client = await signedIn(server, `lead@${FIRM.id}.example`);
});
afterAll(() => server.end());

describe('the diagram of a property', () => {
  it('has every station in service with its number, a legend and words for those who cannot see it', async () => {
    const property = await server.ledger.findProperty(FIRM.id, 'property-001');
    const answer = await client.get('/api/properties/property-001/diagram');
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'image/svg+xml']);
    expect(answer.text).toMatch(/^<svg[^>]+role="img"/);
    expect(answer.text).toMatch(/<desc/);
    for (const { number, inService } of property?.stations ?? []) {
      if (inService) expect(answer.text).toContain(`>${number}<`);
    }
  });

  it('prints to scale on letter paper, in metres or feet', async () => {
    const paper = await client.get(
      '/api/properties/property-001/diagram?paper=letter&scale=200&units=m&contrast=high',
    );
    expect(paper.text).toMatch(/width="215\.9mm"/);
    expect((await client.get('/api/properties/property-001/diagram?scale=3')).status).toBe(400);
  });
});

describe('a property as it is drawn', () => {
  const id = 'property-002';
  const square = [
    [0, 0],
    [12, 0],
    [12, 8],
    [0, 8],
  ];
  let stations: readonly string[] = [];

  beforeAll(async () => {
    // One station at each corner of a bare house: all that the demo drew there before is taken off.
    const before = await server.ledger.findProperty(FIRM.id, id);
    const standing = (before?.stations ?? []).filter(({ inService }) => inService);
    stations = standing.slice(0, 4).map(({ station }) => station);
    const corners = [
      [-0.5, -0.5],
      [12.5, -0.5],
      [12.5, 8.5],
      [-0.5, 8.5],
    ];
    const why = 'invented';
    const bodies = [
      ...(before?.structures ?? []).map(({ structure }) => ['structure removed', null, { structure, why }]),
      ...standing.slice(4).map(({ station }) => ['station removed', station, { why }]),
      ...stations.map((station, index) => ['station moved', station, { position: corners[index], why }]),
      [
        'structure added',
        null,
        { structure: 'drawn', name: 'Drawn house', foundation: 'slab', outline: square },
      ],
      [
        'site drawn',
        null,
        {
          hardSurfaces: [
            {
              id: 'drive',
              kind: 'drive',
              outline: [
                [1, -6],
                [11, -6],
                [11, 0],
                [1, 0],
              ],
            },
          ],
          keepOuts: [],
          plantings: [],
          concerns: [],
          fences: [],
          gates: [{ id: 'gate', at: [-6, -6], widthMetres: 1 }],
          parking: [6, -9],
        },
      ],
    ] as const;
    const verdicts = await server.ledger.append(
      FIRM.id,
      bodies.map(([kind, station, body], index) => ({
        id: `0190a3b0-0000-7000-8000-${String(index).padStart(12, '0')}`,
        firm: FIRM.id,
        property: id,
        station: typeof station === 'string' ? station : null,
        by: 'person',
        device: 'test-drawing',
        seq: index + 1,
        at: '2026-11-25T08:00:00-05:00',
        clock: `001795000000000.${String(index).padStart(5, '0')}`,
        kind: String(kind),
        body,
      })),
      '2026-11-25T13:00:00Z',
    );
    expect(verdicts.filter(({ verdict }) => verdict === 'refused')).toEqual([]);
  });

  it('is drawn with its surroundings, as SVG and as a PDF to scale', async () => {
    const svg = await client.get(`/api/properties/${id}/diagram`);
    expect(svg.text).toContain('<title>Drawn house, slab</title>');
    expect(svg.text).toContain('>drive<');
    expect(svg.text).toContain('>truck<');
    const pdf = await client.get(`/api/properties/${id}/diagram?format=pdf&scale=100&contrast=high`);
    expect([pdf.status, pdf.headers.get('content-type')]).toEqual([200, 'application/pdf']);
    expect(pdf.text.slice(0, 5)).toBe('%PDF-');
  });

  it('speaks Spanish to whoever reads Spanish, on the screen and on paper', async () => {
    const svg = await client.get(`/api/properties/${id}/diagram?lang=es-US`);
    expect(svg.text).toContain('>entrada de autos<');
    expect(svg.text).toContain('>camión<');
    expect(svg.text).not.toContain('>drive<');
    const answer = await fetch(`${server.url}/api/properties/${id}/diagram?format=pdf&lang=es-US`, {
      headers: { cookie: [...client.cookies].map(([name, value]) => `${name}=${value}`).join('; ') },
    });
    const bytes = new Uint8Array(await answer.arrayBuffer());
    expect(Buffer.from(bytes).toString('latin1')).toContain('/Lang (es-US)');
    if (hasPoppler) {
      const text = execFileSync('pdftotext', ['-', '-'], { input: bytes, encoding: 'utf8' });
      expect(text.replaceAll(/\s+/g, ' ')).toContain('entrada de autos');
    }
    expect((await client.get(`/api/properties/${id}/diagram?lang=fr-FR`)).status).toBe(400);
  });

  it('comes as GeoJSON that reads back as the same drawing', async () => {
    const answer = await client.get(`/api/properties/${id}/site`);
    expect(answer.headers.get('content-type')).toBe('application/geo+json');
    const read = siteFromGeoJson(answer.text);
    if (!read.ok) throw new Error(JSON.stringify(read.refusals));
    expect(read.site.structures.map((one) => one.id)).toEqual(['drawn']);
    expect(read.site.stations).toHaveLength(4);
    expect(JSON.parse(answer.text)).toEqual(siteToGeoJson(read.site));
  });

  it('is audited and planned on its own drawing: the drive is named, and nobody is told to dig through it', async () => {
    const { body: audit } = await client.get(`/api/properties/${id}/audit`);
    expect(audit.problems).toEqual([]);
    expect(audit.result.unguardedMetres).toBeGreaterThan(5);
    const { body: proposal } = await client.get(`/api/properties/${id}/proposal`);
    const onDrive = proposal.result.stations.filter(
      ({ at }: { readonly at: { readonly x: number; readonly y: number } }) =>
        at.x > 1.001 && at.x < 10.999 && at.y < 0,
    );
    expect(onDrive).toEqual([]);
    expect(JSON.stringify(proposal.result.unguarded)).toContain('drive');
  });

  it('is walked from the truck and back, or from where one likes', async () => {
    const all = await client.post(`/api/properties/${id}/walk`, { stations: [...stations, 'unknown'] });
    expect(all.body.start.from).toEqual({ kind: 'parking' });
    expect([...all.body.order].sort()).toEqual([...stations].sort());
    expect(all.body.isExact).toBe(true);
    expect(all.body.offWalk).toEqual([{ station: 'unknown', why: 'not drawn' }]);
    const from = { kind: 'gate', id: 'gate' };
    const open = await client.post(`/api/properties/${id}/walk`, { stations, from, closed: false });
    expect(open.body.order).toHaveLength(4);
    expect(open.body.lengthMetres).toBeLessThan(all.body.lengthMetres);
    const due = await client.post(`/api/properties/${id}/walk`, {});
    expect(due.status).toBe(200);
    expect(due.body.order.every((one: string) => stations.includes(one))).toBe(true);
    const wrong = await client.post(`/api/properties/${id}/walk`, {
      stations,
      from: { kind: 'gate', id: 'none' },
    });
    expect([wrong.status, wrong.body.errors[0].at]).toEqual([400, 'body.from']);
  });
});

describe('a ring for a drawn house', () => {
  it('is proposed by the profile’s numbers: no neighbours farther apart than the spacing, no wall unguarded', async () => {
    const { body } = await client.post('/api/ring/proposals', { site: HOUSE, profile: DEMO_PROFILE.id });
    expect(body.problems).toEqual([]);
    const [line] = body.result.lines;
    const spacing = DEMO_PROFILE.greatestSpacingMetres.value;
    expect(line.greatestGapMetres).toBeLessThanOrEqual(spacing + 1e-6);
    // Fewest: as many as the length of the line asks for, and no more.
    expect(line.stationCount).toBe(Math.ceil(line.lengthMetres / spacing));
    expect(body.result.unguardedMetres).toBe(0);
  });

  it('without stations is audited as unguarded, with the additions that mend it', async () => {
    const { body } = await client.post('/api/ring/audits', { site: HOUSE, profile: DEMO_PROFILE.id });
    expect(body.result.unguardedMetres).toBeGreaterThan(30);
    expect(body.result.changes.every((change: { readonly kind: string }) => change.kind === 'add')).toBe(
      true,
    );
  });

  it('that crosses itself is answered with the fault and its place, a profile that nobody entered with the remedy', async () => {
    const [feature] = HOUSE.features;
    const [[a, b, c, d] = []] = feature?.geometry.coordinates ?? [];
    const crossed = {
      ...HOUSE,
      features: [{ ...feature, geometry: { type: 'Polygon', coordinates: [[a, c, b, d, a]] } }],
    };
    const { status, body } = await client.post('/api/ring/proposals', {
      site: crossed,
      profile: DEMO_PROFILE.id,
    });
    expect([status, body.result]).toEqual([200, null]);
    expect(JSON.stringify(body.problems)).toMatch(/cross/);
    expect((await client.post('/api/ring/proposals', { site: HOUSE, profile: 'none' })).body.title).toMatch(
      /label profile/i,
    );
  });
});
