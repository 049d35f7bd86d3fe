import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts } from './support/facts.ts';
import {
  type Answer,
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

let server: TestServer;
let lead: Client;

beforeAll(async () => {
  server = await startTestServer();
  await seedPerson(server, 'lead', { id: 'lead' });
  lead = await signedIn(server, `lead@${FIRM.id}.example`);
  const facts = createFacts(FIRM.id, 'lead');
  await lead.post('/api/facts', { facts: [facts.profile(), facts.branch('north'), facts.branch('south')] });
});
afterAll(() => server.end());

const HEADER = 'Account,Property,Street,City,State,Zip,Branch,Station,Model,Installed';
const row = (
  house: number,
  station: number,
  more: { readonly installed?: string; readonly branch?: string } = {},
) =>
  `A-${house},House ${house},${house} Pretend Lane,Nowhere Falls,FL,00000,${more.branch ?? 'north'},${station},two-part,${more.installed ?? '2025-03-04'}`;
const sheet = (...rows: readonly string[]) => new TextEncoder().encode(`${[HEADER, ...rows].join('\n')}\n`);

function send(
  client: Client,
  file: Uint8Array,
  query = '',
  headers: Record<string, string> = {},
): Promise<Answer> {
  return client.send('POST', `/api/imports?file=houses.csv${query}`, file, {
    'content-type': 'text/csv',
    ...headers,
  });
}
const countProperties = async () => (await lead.get('/api/properties?limit=1000')).body.properties.length;

describe('import over HTTP', () => {
  const good = sheet(row(1, 1), row(1, 2), row(2, 1));

  it('shows on a dry run what it would do, and does nothing', async () => {
    const answer = await send(lead, good, '&dryRun=true');
    expect(answer.status, answer.text).toBe(200);
    expect(answer.body).toMatchObject({ dryRun: true, stored: 0, problemCount: 0 });
    expect(answer.body.planned).toBeGreaterThan(4);
    expect(answer.body.summary).toMatchObject({ rows: 3, newProperties: 2, newStations: 3 });
    expect(answer.body.columns.length).toBe(10);
    expect(await countProperties()).toBe(0);
  });

  it('stores all of a file, and the same file again without doubles', async () => {
    const first = await send(lead, good);
    expect(first.body.stored, first.text).toBe(first.body.planned);
    expect(await countProperties()).toBe(2);
    const again = await send(lead, good);
    expect(again.body).toMatchObject({ stored: 0, planned: 0 });
    expect(again.body.summary.knownRows).toBe(3);
    expect(await countProperties()).toBe(2);
  });

  it('says in the language asked for what stands in the way: of a cell, of a file, and where', async () => {
    const bad = sheet(row(7, 1, { installed: '2025-02-30' }));
    const seen = await send(lead, bad, '&dryRun=true&lang=es-US');
    expect(seen.body.problems[0]).toMatchObject({ row: 2, reason: 'no es una fecha que exista' });
    const refused = await send(lead, bad, '&lang=es-US');
    expect(refused.status).toBe(422);
    expect(refused.body).toMatchObject({ code: 'import refused', lang: 'es-US' });
    expect(refused.body.errors[0].at).toBe('houses.csv, fila 2, columna Installed');
    const empty = await send(lead, new TextEncoder().encode('\n'), '&dryRun=true&lang=es-US');
    expect(empty.body.errors[0].message).toMatch(/^no tiene una fila con nombres de columna\. Ponga/);
    expect((await send(lead, good, '&dryRun=true&lang=xx')).status).toBe(400);
  });

  it('refuses a file with one bad cell whole, and names the cell', async () => {
    const bad = sheet(row(3, 1), row(3, 2), row(3, 3), row(4, 1, { installed: 'last Tuesday' }));
    const answer = await send(lead, bad);
    expect(answer.status).toBe(422);
    expect(answer.body.code).toBe('import refused');
    expect(answer.body.errors[0].at).toBe('houses.csv, row 5, column Installed');
    expect(answer.body.errors[0].message).toContain('last Tuesday');
    expect(await countProperties()).toBe(2);
    const dry = await send(lead, bad, '&dryRun=true');
    expect(dry.status).toBe(200);
    expect(dry.body.problems[0]).toMatchObject({ row: 5, column: 'Installed', value: 'last Tuesday' });
  });

  it('takes several files and a mapping as a form, and refuses a mapping that does not fit', async () => {
    const upload = (mapping: unknown) => {
      const form = new FormData();
      form.append(
        'file',
        new Blob(['Zeta,Street,City,State,Zip\nHouse 9,9 Pretend Lane,Nowhere Falls,FL,00000\n']),
        'odd.csv',
      );
      form.append('mapping', JSON.stringify(mapping));
      return fetch(`${server.url}/api/imports?dryRun=true`, {
        method: 'POST',
        body: form,
        headers: {
          origin: server.url,
          cookie: [...lead.cookies].map(([name, value]) => `${name}=${value}`).join('; '),
        },
      });
    };
    const columns = { Zeta: 'name', Street: 'street', City: 'town', State: 'state', Zip: 'postcode' };
    const fits = await upload({
      sheets: [{ file: 'odd.csv', sheet: '', records: 'properties', columns }],
      defaults: { branch: 'north', profile: 'demo' },
    });
    const body: unknown = await fits.json();
    expect(fits.status, JSON.stringify(body)).toBe(200);
    expect(body).toMatchObject({ problemCount: 0, summary: { newProperties: 1 } });
    const wrong = await upload({ sheets: [{ file: 'odd.csv', sheet: '', columns: { Zeta: 'nonsense' } }] });
    expect(wrong.status).toBe(422);
    expect(JSON.stringify(await wrong.json())).toContain('mapping.sheets[0].columns');
  });

  it('refuses what is no table, and a file beyond 50 MB', async () => {
    const picture = await send(lead, Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 13, 0, 1, 2]));
    expect(picture.body.code).toBe('import refused');
    expect(picture.body.errors[0].at).toBe('houses.csv');
    expect((await send(lead, new Uint8Array(50 * 1024 * 1024 + 1))).status).toBe(413);
  });

  it('keeps a lead of one branch to that branch', async () => {
    await seedPerson(server, 'lead', { id: 'south-lead', email: 'south@example.com', branch: 'south' });
    const south = await signedIn(server, 'south@example.com');
    const before = await countProperties();
    const answer = await send(south, sheet(row(20, 1, { branch: 'south' }), row(21, 1, { branch: 'north' })));
    expect(answer.body.code).toBe('import refused');
    expect(answer.body.errors[0].message).toMatch(/branch/);
    expect(await countProperties()).toBe(before);
  });

  it('tells its progress as lines, while phones go on recording', async () => {
    const rows = Array.from({ length: 6000 }, (_, index) =>
      row(100 + Math.floor(index / 20), 1 + (index % 20)),
    );
    const importing = send(lead, sheet(...rows), '', { accept: 'application/x-ndjson' });
    const second = await signedIn(server, `lead@${FIRM.id}.example`);
    const facts = createFacts(FIRM.id, 'lead', 'meanwhile');
    const noted = await second.post('/api/facts', { facts: [facts.branch('west')] });
    expect(noted.body.verdicts[0].verdict).toBe('accepted');
    const answer = await importing;
    const lines = answer.text
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    const stages = new Set(lines.flatMap(({ progress }) => (progress === undefined ? [] : [progress.stage])));
    expect(stages).toContain('planning');
    expect(stages).toContain('storing');
    expect(lines.at(-1).result, answer.text.slice(-500)).toMatchObject({
      dryRun: false,
      summary: { newProperties: 300, newStations: 6000 },
    });
    expect((await lead.get('/api/verify')).body.sound).toBe(true);
  });
});
