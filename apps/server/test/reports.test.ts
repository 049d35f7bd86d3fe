import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts, NOTHING_FOUND } from './support/facts.ts';
import {
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

let server: TestServer;
let inspector: Client;

beforeAll(async () => {
  server = await startTestServer();
  await seedPerson(server, 'owner', { id: 'owner' });
  await seedPerson(server, 'inspector');
  const owner = await signedIn(server, `owner@${FIRM.id}.example`);
  inspector = await signedIn(server, `inspector@${FIRM.id}.example`);
  const facts = createFacts(FIRM.id, 'owner', 'second');
  const hit = facts.seen('house', 'house-s1', 120);
  const baited = {
    ...hit,
    body: {
      ...(typeof hit.body === 'object' ? hit.body : {}),
      finding: { ...NOTHING_FOUND, termites: 'live on monitor', monitor: 'eaten' },
      work: {
        yearlyServiceDone: false,
        baseMonitorLifted: false,
        cleanedOut: false,
        fitted: [{ slot: 'top', insert: 'bait' }],
        withdrawn: [],
        partsUsed: { 'bait-insert': 1 },
        minutes: 6,
      },
      application: {
        productName: 'Demo Bait (invented)',
        epaRegistrationNumber: '99999-999',
        grams: 120,
        location: 'station 1',
        areaTreated: '1 station',
        site: '=dwelling',
        applicatorName: 'Invented Applicator',
        certificationNumber: 'INV-77',
        appliedUnderSupervisionBy: null,
      },
    },
  };
  const answer = await owner.post('/api/facts', {
    facts: [...firstFacts(FIRM.id, 'owner', 'house'), baited, facts.closed('house', 120)],
  });
  for (const { verdict } of answer.body.verdicts) expect(verdict).toBe('accepted');
});
afterAll(() => server.end());

describe('papers over HTTP', () => {
  it('a visit report as a page under a policy that runs nothing, and as PDF', async () => {
    const page = await inspector.get('/api/reports/visits/house-visit-120');
    expect(page.status).toBe(200);
    expect(page.headers.get('content-type')).toMatch(/^text\/html/);
    expect(page.headers.get('content-security-policy')).toMatch(/default-src 'none'.*sandbox/);
    expect(page.text).toContain('House house');
    expect(page.text).toMatch(/invented/i);
    const pdf = await inspector.get('/api/reports/visits/house-visit-120?property=house&format=pdf');
    expect(pdf.headers.get('content-type')).toBe('application/pdf');
    expect(pdf.text.slice(0, 5)).toBe('%PDF-');
    expect((await inspector.get('/api/reports/visits/no-such-visit')).body.code).toBe('not found');
  });

  it('the application record, complete, harmless in a spreadsheet, by period and product', async () => {
    const all = await inspector.get('/api/reports/applications');
    expect(all.headers.get('content-type')).toMatch(/^text\/csv/);
    expect(all.text).toContain('99999-999');
    expect(all.text).toContain('INV-77');
    expect(all.text).not.toMatch(/(^|,|")=dwelling/m);
    const rows = (text: string) => text.trim().split('\r\n').length - 1;
    expect(rows(all.text)).toBe(1);
    expect(rows((await inspector.get('/api/reports/applications?from=2026-01-01')).text)).toBe(0);
    expect(
      rows((await inspector.get('/api/reports/applications?product=99999-999&property=house')).text),
    ).toBe(1);
    expect(rows((await inspector.get('/api/reports/applications?product=1-1')).text)).toBe(0);
    expect(rows((await inspector.get('/api/reports/applications?technician=INV-77')).text)).toBe(1);
    const pdf = await inspector.get('/api/reports/applications?format=pdf');
    expect(pdf.text.slice(0, 5)).toBe('%PDF-');
    const noDay = await inspector.get('/api/reports/applications?from=2026-13-01');
    expect(noDay.body).toMatchObject({ code: 'malformed', errors: [{ at: 'query.from' }] });
  });

  it('the station list', async () => {
    const csv = await inspector.get('/api/reports/stations/house');
    expect(csv.text.trim().split('\r\n')).toHaveLength(3);
    expect(csv.headers.get('content-disposition')).toBe('inline; filename="stations-house.csv"');
    expect((await inspector.get('/api/reports/stations/house?format=html')).text).toContain('T-house-s1');
  });
});
