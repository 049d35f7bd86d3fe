import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, NOTHING_FOUND } from './support/facts.ts';
import {
  type Answer,
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { findTestDatabase, type TestDatabase } from './support/postgres.ts';

let server: TestServer;
let lead: Client;
/** False where no PostgreSQL is installed. */
let isHere = false;

const HEADER = 'Account,Property,Street,City,State,Zip,Branch,Station,Model,Installed';
const row = (house: number, station: number, name = `House ${house}`) =>
  `A-${house},${name},${house} Pretend Lane,Nowhere Falls,FL,00000,north,${station},two-part,2025-03-04`;

function send(...rows: readonly string[]): Promise<Answer> {
  return lead.send(
    'POST',
    '/api/imports?file=houses.csv',
    new TextEncoder().encode(`${[HEADER, ...rows].join('\n')}\n`),
    { 'content-type': 'text/csv' },
  );
}
const withdraw = (id: string, more: object = {}) =>
  lead.post(`/api/imports/${id}/withdraw`, { why: 'the wrong sheet', ...more });
const listProperties = async () => (await lead.get('/api/properties?limit=1000')).body.properties;
const states = async () =>
  JSON.stringify(
    (await server.ledger.listProperties(FIRM.id, { limit: 1000 })).filter(({ body }) => body !== null),
  );

describe.each(['SQLite', 'PostgreSQL'] as const)('an import taken back, on %s', (kind) => {
  let database: TestDatabase | undefined;
  beforeAll(async () => {
    database = kind === 'PostgreSQL' ? await findTestDatabase() : undefined;
    isHere = kind === 'SQLite' || database !== undefined;
    if (!isHere) return;
    server = await startTestServer(
      database === undefined
        ? {}
        : { databaseUrl: database.url, secret: 'a secret of the test, long enough to sign with' },
    );
    await seedPerson(server, 'lead', { id: 'lead' });
    await seedPerson(server, 'technician', { id: 'technician' });
    lead = await signedIn(server, `lead@${FIRM.id}.example`);
    const facts = createFacts(FIRM.id, 'lead');
    await lead.post('/api/facts', { facts: [facts.profile(), facts.branch('north')] });
  });
  afterAll(async () => {
    if (isHere) await server.end();
    await database?.stop();
  });

  it('leaves the firm as it was before, keeps every entry, and the mended sheet comes in anew', async (context) => {
    if (!isHere) return context.skip();
    const kept = await send(row(1, 1), row(1, 2));
    expect(kept.body.id, kept.text).toMatch(/^\d+-\d+$/);
    const before = await states();
    const wrong = await send(row(1, 3), row(2, 1, 'Huose 2'), row(2, 2, 'Huose 2'));
    expect(await listProperties()).toHaveLength(2);
    const entries = (await server.ledger.findHead(FIRM.id)).seq;

    const back = await withdraw(wrong.body.id);
    expect(back.status, back.text).toBe(200);
    expect(back.body).toMatchObject({ withdrawn: wrong.body.stored, alreadyWithdrawn: 0, leaning: 0 });
    expect(await states()).toBe(before);
    expect(await listProperties()).toHaveLength(1);
    expect((await server.ledger.findHead(FIRM.id)).seq).toBe(entries + wrong.body.stored);
    expect((await server.ledger.verify(FIRM.id)).sound).toBe(true);
    // Repeated, it changes nothing more.
    expect((await withdraw(wrong.body.id)).body).toMatchObject({ withdrawn: 0 });

    const mended = await send(row(1, 3), row(2, 1), row(2, 2));
    expect(mended.body.stored, mended.text).toBe(mended.body.planned);
    expect(mended.body.stored).toBeGreaterThan(3);
    const names = (await listProperties()).map(({ name }: { name: string }) => name);
    expect(names.toSorted()).toEqual(['House 1', 'House 2']);
    const again = await send(row(1, 3), row(2, 1), row(2, 2));
    expect(again.body.stored).toBe(0);

    const { imports } = (await lead.get('/api/imports')).body;
    expect(imports.map(({ takenBackAt }: { takenBackAt: string | null }) => takenBackAt !== null)).toEqual([
      false,
      true,
      false,
    ]);
  });

  it('is refused where later entries lean on it, unless one says so', async (context) => {
    if (!isHere) return context.skip();
    const sent = await send(row(7, 1));
    const [property] = (await listProperties()).filter(({ name }: { name: string }) => name === 'House 7');
    const state = await server.ledger.findProperty(FIRM.id, property.property);
    const station = state?.stations[0]?.station ?? '';
    const facts = createFacts(FIRM.id, 'lead', 'later');
    const seen = await lead.post('/api/facts', { facts: [facts.seen(property.property, station, 100)] });
    expect(seen.body.verdicts[0].verdict, seen.text).toBe('accepted');
    const refused = await withdraw(sent.body.id);
    expect(refused.status).toBe(409);
    expect(refused.body.code).toBe('import leaned on');
    expect(refused.body.errors[0].at).toContain(property.property);
    const evenSo = await withdraw(sent.body.id, { evenSo: true });
    expect(evenSo.body).toMatchObject({ leaning: 1 });
  });

  it('is refused for good where pesticide was applied at what it brought', async (context) => {
    if (!isHere) return context.skip();
    const sent = await send(row(8, 1));
    const [property] = (await listProperties()).filter(({ name }: { name: string }) => name === 'House 8');
    const state = await server.ledger.findProperty(FIRM.id, property.property);
    const facts = createFacts(FIRM.id, 'lead', 'applied');
    const look = facts.seen(property.property, state?.stations[0]?.station ?? '', 100);
    const applied = {
      ...look,
      body: {
        ...(typeof look.body === 'object' ? look.body : {}),
        finding: { ...NOTHING_FOUND, termites: 'live on monitor', monitor: 'eaten' },
        application: {
          productName: 'Demo Bait (invented)',
          epaRegistrationNumber: '99999-999',
          grams: 120,
          location: 'station 1',
          areaTreated: '1 station',
          site: 'dwelling',
          applicatorName: 'Invented Applicator',
          certificationNumber: 'INV-77',
          appliedUnderSupervisionBy: null,
        },
      },
    };
    expect((await lead.post('/api/facts', { facts: [applied] })).body.verdicts[0].verdict).toBe('accepted');
    for (const evenSo of [false, true]) {
      const refused = await withdraw(sent.body.id, { evenSo });
      expect([refused.status, refused.body.code]).toEqual([409, 'import holds applications']);
    }
  });

  it('must be a whole import of the firm', async (context) => {
    if (!isHere) return context.skip();
    expect((await withdraw('1-2')).status).toBe(404);
    expect((await withdraw('nonsense')).status).toBe(404);
  });
});
