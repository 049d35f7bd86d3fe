import { generateDemo } from '@sillwatch/demo';
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
