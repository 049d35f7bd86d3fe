import { correctLook, type StationSeenBody } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts, NOTHING_FOUND } from './support/facts.ts';
import { Client, FIRM, seedPerson, signedIn, startTestServer, type TestServer } from './support/harness.ts';

let server: TestServer;
const clients: Record<string, Client> = {};
const as = (role: string): Client => clients[role] ?? new Client(server.url);

/** Every field that 7 CFR 110.3(a) asks for. */
const APPLICATION = {
  productName: 'Demo Bait (invented)',
  epaRegistrationNumber: '99999-999',
  grams: 120,
  location: 'Station 1, House, 12 Pretend Lane',
  areaTreated: '1 station',
  site: 'Structure, subterranean termites',
  applicatorName: 'C. Applicator (invented)',
  certificationNumber: 'INV-77',
  appliedUnderSupervisionBy: null,
};

const office = createFacts(FIRM.id, 'lead', 'desk');
const tech = createFacts(FIRM.id, 'technician', 'phone');
const look = tech.seen('house', 'house-s1', 90);
const recorded = look.body as StationSeenBody;
const hit = correctLook(
  recorded,
  {
    finding: { ...NOTHING_FOUND, reach: 'opened', termites: 'live on monitor' } as StationSeenBody['finding'],
    baitSlots: ['top'],
    application: APPLICATION,
  },
  'bait-insert',
);

beforeAll(async () => {
  server = await startTestServer();
  for (const role of ['lead', 'technician'] as const) {
    await seedPerson(server, role, { id: role });
    clients[role] = await signedIn(server, `${role}@${FIRM.id}.example`);
  }
  await as('lead').post('/api/facts', { facts: firstFacts(FIRM.id, 'lead', 'house') });
  await as('technician').post('/api/facts', { facts: [look] });
});
afterAll(() => server.end());

async function verdictOn(body: unknown) {
  const answer = await as('lead').post('/api/facts', { facts: [office.correction(look, body)] });
  return answer.body.verdicts[0];
}
const getHouse = async () => (await as('lead').get('/api/properties/house?asOf=2025-05-01')).body;
const getRecord = async () =>
  (await as('lead').get('/api/reports/applications?format=csv&property=house')).text;

describe('a correction of what was found and of the bait', () => {
  it.each(Object.keys(APPLICATION).filter((name) => name !== 'appliedUnderSupervisionBy'))(
    'without %s is refused, and says which field is missing and what to do (7 CFR 110.3(a))',
    async (name) => {
      const verdict = await verdictOn({
        ...hit,
        application: { ...APPLICATION, [name]: name === 'grams' ? 0 : '' },
      });
      expect(verdict).toMatchObject({ verdict: 'refused', code: 'legal field missing' });
      expect(verdict.detail).toContain(`body.body.application.${name}`);
      expect(verdict.detail).toMatch(/enter the .*7 CFR 110\.3/);
    },
  );

  it('without any use record, or of another form, is refused too, and nothing has changed', async () => {
    expect(await verdictOn({ ...hit, application: null })).toMatchObject({ code: 'legal field missing' });
    expect(await verdictOn({ ...hit, finding: { reach: 'opened' } })).toMatchObject({ code: 'malformed' });
    expect(await verdictOn({ text: 'not a look' })).toMatchObject({ code: 'malformed' });
    expect((await getHouse()).stations[0]).toMatchObject({ phase: 'monitoring' });
    expect(await getRecord()).not.toContain('INV-77');
  });

  it('is followed by state, due work, the record with both wordings, and what phones fetch', async () => {
    const before = await getHouse();
    const correction = office.correction(look, hit);
    const answer = await as('lead').post('/api/facts', { facts: [correction] });
    expect(answer.body.verdicts).toMatchObject([{ verdict: 'accepted' }]);
    const after = await getHouse();
    expect(after.stations[0]).toMatchObject({ phase: 'baited', baitLeft: 'full' });
    expect(after.stations[0].due).not.toEqual(before.stations[0].due);
    expect(after.stations[1]).toEqual(before.stations[1]);
    expect(await getRecord()).toContain('INV-77');
    const fetched = await as('technician').post('/api/sync/facts', {
      properties: [{ property: 'house', afterSeq: 0 }],
    });
    expect(fetched.body.properties[0].facts.at(-1)).toMatchObject({ id: correction.id, body: { body: hit } });

    // Another amount: the first is kept beside it, and a correction of this correction is judged down to the look.
    const second = office.correction(look, { ...hit, application: { ...APPLICATION, grams: 240 } });
    await as('lead').post('/api/facts', { facts: [second] });
    const record = await getRecord();
    expect(record).toMatch(/,120,/);
    expect(record).toMatch(/,240,/);
    const third = office.correction(second, {
      ...Object(second.body),
      body: { ...hit, application: { ...APPLICATION, site: ' ' } },
    });
    const refused = await as('lead').post('/api/facts', { facts: [third] });
    expect(refused.body.verdicts[0]).toMatchObject({ code: 'legal field missing' });
    expect(refused.body.verdicts[0].detail).toContain('body.body.body.application.site');
    const moved = office.correction(second, { ...Object(second.body), corrects: correction.id });
    const elsewhere = await as('lead').post('/api/facts', { facts: [moved] });
    expect(elsewhere.body.verdicts[0]).toMatchObject({ code: 'malformed' });
  });
});
