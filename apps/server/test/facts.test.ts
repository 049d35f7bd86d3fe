import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts } from './support/facts.ts';
import { Client, FIRM, seedPerson, signedIn, startTestServer, type TestServer } from './support/harness.ts';

let server: TestServer;
const clients: Record<string, Client> = {};

beforeAll(async () => {
  server = await startTestServer();
  for (const role of ['owner', 'lead', 'technician', 'inspector'] as const) {
    await seedPerson(server, role, { id: role });
    clients[role] = await signedIn(server, `${role}@${FIRM.id}.example`);
  }
});
afterAll(() => server.end());

const as = (role: string): Client => clients[role] ?? new Client(server.url);
const codes = (answer: {
  readonly body: { readonly verdicts: readonly { code?: string; verdict: string }[] };
}) => answer.body.verdicts.map(({ code, verdict }) => code ?? verdict);

describe('recording', () => {
  it('refuses the first record until the firm has entered its label profile', async () => {
    const facts = createFacts(FIRM.id, 'owner');
    const early = [
      facts.branch(),
      facts.property('early'),
      facts.structure('early'),
      facts.installed('early', 'e1'),
    ];
    const answer = await as('owner').post('/api/facts', { facts: early });
    expect(codes(answer)).toEqual(['accepted', 'accepted', 'accepted', 'not allowed']);
    expect(answer.body.verdicts[3].detail).toMatch(/label profile/);
    const again = await as('owner').post('/api/facts', {
      facts: [facts.profile(), facts.installed('early', 'e1')],
    });
    expect(codes(again)).toEqual(['accepted', 'accepted']);
  });

  it('takes a first batch whole, and the same again without doubles', async () => {
    const batch = firstFacts(FIRM.id, 'owner', 'house');
    const first = await as('owner').post('/api/facts', { facts: batch });
    expect(new Set(codes(first))).toEqual(new Set(['accepted']));
    const again = await as('owner').post('/api/facts', { facts: batch });
    expect(new Set(codes(again))).toEqual(new Set(['already known']));
    expect(again.body.verdicts.map(({ seq }: { seq: number }) => seq)).toEqual(
      first.body.verdicts.map(({ seq }: { seq: number }) => seq),
    );
    const property = (await as('inspector').get('/api/properties/house?asOf=2026-11-01')).body;
    expect(property.stations).toHaveLength(2);
    expect(property.visits).toHaveLength(1);
    expect(property.stations[0].due.length).toBeGreaterThan(0);
    const due = (await as('technician').get('/api/due?asOf=2026-11-01&property=house')).body;
    expect(due.rows[0]).toMatchObject({ property: 'house', town: 'Nowhere Falls', timeliness: 'late' });
    expect(due.summary.late).toBeGreaterThan(0);
  });

  it('gives each fact its own verdict: wrong name, wrong role, wrong place, nonsense', async () => {
    const own = createFacts(FIRM.id, 'technician');
    const lent = createFacts(FIRM.id, 'lead', 'lent');
    const foreign = createFacts('firm-other', 'technician', 'foreign');
    const answer = await as('technician').post('/api/facts', {
      facts: [
        own.seen('house', 'house-s1', 100),
        lent.seen('house', 'house-s1', 100),
        own.property('mine'),
        own.profile(),
        own.seen('nowhere', 'nowhere-s1', 100),
        foreign.seen('house', 'house-s1', 100),
        { id: 'x', kind: 7 },
        'text',
        own.other('house', 'a kind of tomorrow'),
        own.other(null, 'a firm kind of tomorrow'),
      ],
    });
    expect(codes(answer)).toEqual([
      'accepted',
      'not allowed',
      'not allowed',
      'not allowed',
      'not allowed',
      'other firm',
      'malformed',
      'malformed',
      'accepted',
      'accepted',
    ]);
  });

  it('lets nobody record as somebody else, save the office when it says that it imports', async () => {
    const facts = createFacts(FIRM.id, 'somebody', 'old-system');
    const one = facts.seen('house', 'house-s2', 101);
    expect(codes(await as('lead').post('/api/facts', { facts: [one] }))).toEqual(['not allowed']);
    expect((await as('technician').post('/api/facts?importing=true', { facts: [one] })).status).toBe(403);
    expect(codes(await as('lead').post('/api/facts?importing=true', { facts: [one] }))).toEqual(['accepted']);
  });

  it('keeps a person of one branch to that branch', async () => {
    await seedPerson(server, 'technician', { id: 'southerner', email: 'south@example.com', branch: 'south' });
    const south = await signedIn(server, 'south@example.com');
    const facts = createFacts(FIRM.id, 'southerner');
    expect(codes(await south.post('/api/facts', { facts: [facts.seen('house', 'house-s1', 102)] }))).toEqual([
      'not allowed',
    ]);
  });

  it('lets a technician correct his own records, and the office any', async () => {
    const own = createFacts(FIRM.id, 'technician', 'own-2');
    const office = createFacts(FIRM.id, 'lead');
    const mine = own.note('house', 'the gate is loked');
    const theirs = office.note('house', 'the gate is loked');
    await as('technician').post('/api/facts', { facts: [mine] });
    await as('lead').post('/api/facts', { facts: [theirs] });
    const ok = own.correction(mine, { text: 'the gate is locked' });
    expect(
      codes(await as('technician').post('/api/facts', { facts: [ok, own.correction(theirs, null)] })),
    ).toEqual(['accepted', 'not allowed']);
    expect(codes(await as('lead').post('/api/facts', { facts: [office.correction(mine, null)] }))).toEqual([
      'accepted',
    ]);
    const { facts } = (await as('inspector').get('/api/properties/house/facts')).body;
    const old = facts.find(({ id }: { id: string }) => id === mine.id);
    expect(old.body).toEqual({ text: 'the gate is loked' });
    expect(old.correctedBy).toContain(ok.id);
  });

  it('refuses an application of pesticide that lacks a field of 7 CFR 110.3(a), and names it', async () => {
    const application = {
      productName: 'Demo Bait (invented)',
      epaRegistrationNumber: '99999-999',
      grams: 100,
      location: 'station 1, north wall',
      areaTreated: '1 station',
      site: 'dwelling',
      applicatorName: 'Invented Applicator',
      certificationNumber: 'INV-77',
      appliedUnderSupervisionBy: null,
    };
    const facts = createFacts(FIRM.id, 'technician', 'applier');
    const baited = (changes: Record<string, unknown>) => {
      const seen = facts.seen('house', 'house-s1', 110);
      if (typeof seen.body !== 'object') throw new Error('a station seen has a body');
      return {
        ...seen,
        body: {
          ...seen.body,
          finding: {
            reach: 'opened',
            termites: 'live on monitor',
            baitLeft: 'no bait',
            monitor: 'eaten',
            housing: 'sound',
            occupants: 'none',
          },
          work: {
            yearlyServiceDone: false,
            baseMonitorLifted: false,
            cleanedOut: false,
            fitted: [{ slot: 'top', insert: 'bait' }],
            withdrawn: [],
            partsUsed: { 'bait-insert': 1 },
            minutes: 5,
          },
          application: { ...application, ...changes },
        },
      };
    };
    const answer = await as('technician').post('/api/facts', {
      facts: [
        baited({}),
        baited({ grams: 0 }),
        baited({ certificationNumber: '' }),
        baited({ location: '' }),
        baited({ epaRegistrationNumber: '' }),
        baited({ areaTreated: '' }),
        baited({ applicatorName: '' }),
        baited({ productName: '' }),
        baited({ site: '' }),
      ],
    });
    expect(codes(answer)[0], JSON.stringify(answer.body.verdicts[0])).toBe('accepted');
    expect(codes(answer).slice(1)).toEqual(new Array(8).fill('legal field missing'));
    expect(answer.body.verdicts[2].detail).toMatch(/certif/i);
  });

  it('takes 2,000 facts and not 2,001', async () => {
    const facts = createFacts(FIRM.id, 'technician', 'long-away');
    const many = Array.from({ length: 2001 }, () => facts.note('house', 'x'));
    const tooMany = await as('technician').post('/api/facts', { facts: many });
    expect(tooMany.status).toBe(400);
    expect(tooMany.body.errors[0].at).toBe('body.facts');
    expect(codes(await as('technician').post('/api/facts', { facts: many.slice(1) }))).toHaveLength(2000);
  });

  it('says today by the clock of the place: both ends of the world at one instant', async () => {
    const facts = createFacts(FIRM.id, 'owner', 'zones');
    const east = facts.property('east');
    const west = facts.property('west');
    const zoned = (fact: typeof east, timeZone: string) => ({
      ...fact,
      body: { ...(typeof fact.body === 'object' ? fact.body : {}), timeZone },
    });
    await as('owner').post('/api/facts', {
      facts: [zoned(east, 'Pacific/Kiritimati'), zoned(west, 'Pacific/Pago_Pago')],
    });
    const day = async (id: string) => (await as('owner').get(`/api/properties/${id}`)).body.asOf;
    const expected = (timeZone: string) =>
      new Intl.DateTimeFormat('en-CA', {
        timeZone,
        year: 'numeric',
        month: '2-digit',
        day: '2-digit',
      }).format();
    expect(await day('east')).toBe(expected('Pacific/Kiritimati'));
    expect(await day('west')).toBe(expected('Pacific/Pago_Pago'));
    expect(await day('east')).not.toBe(await day('west'));
    expect((await as('owner').get('/api/due?asOf=2026-02-30')).body.code).toBe('malformed');
  });
});

describe('fifty phones', () => {
  it('that sync at once, each twice, lose nothing and double nothing', async () => {
    const phones = await Promise.all(
      Array.from({ length: 50 }, async (_, index) => {
        await seedPerson(server, 'technician', { id: `phone-${index}`, email: `phone-${index}@example.com` });
        return signedIn(server, `phone-${index}@example.com`);
      }),
    );
    const before = await countFacts();
    const batches = phones.map((_, index) => {
      const facts = createFacts(FIRM.id, `phone-${index}`);
      return Array.from({ length: 40 }, (_unused, at) =>
        facts.seen('house', `house-s${1 + (at % 2)}`, 120 + at),
      );
    });
    const answers = await Promise.all(
      phones.flatMap((phone, index) => {
        const send = () => phone.post('/api/facts', { facts: batches[index] });
        return [send(), send()];
      }),
    );
    for (const answer of answers) {
      expect(answer.status).toBe(200);
      for (const code of codes(answer)) expect(['accepted', 'already known']).toContain(code);
    }
    expect(await countFacts()).toBe(before + 50 * 40);
    const ids = new Set(await listIds());
    for (const batch of batches) for (const { id } of batch) expect(ids.has(id)).toBe(true);
    expect((await as('inspector').get('/api/verify')).body).toMatchObject({ sound: true });
  });
});

async function listIds(): Promise<readonly string[]> {
  const ids: string[] = [];
  let after: number | null = 0;
  while (after !== null) {
    const { body }: { body: { facts: readonly { id: string }[]; nextAfterSeq: number | null } } = await as(
      'inspector',
    ).get(`/api/facts?afterSeq=${after}&limit=1000`);
    ids.push(...body.facts.map(({ id }) => id));
    after = body.nextAfterSeq;
  }
  return ids;
}

async function countFacts(): Promise<number> {
  return (await listIds()).length;
}
