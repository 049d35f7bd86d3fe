/**
 * How long a phone waits: one batch of 500 facts over HTTP until the server says that they are on stable storage
 * (goal: under 250 ms, SQLite, 2 cores), and fifty phones at once. Seeded; nothing is lost is checked outside the timed part.
 * `node bench/server/sync.ts [rounds]`
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { createIdMaker, seedAccount, startServer } from '@sillwatch/server';
import { type AnyFact, DEMO_PROFILE } from '@sillwatch/trade';
import { pino } from 'pino';

const ROUNDS = Number(process.argv[2] ?? 30);
const BATCH = 500;
const PHONES = 50;
const PROPERTIES = 60;
const STATIONS = 20;
const FIRM = { id: 'bench-firm', name: 'Invented bench firm' };
const START = Date.UTC(2025, 0, 10, 15);

const newId = createIdMaker(Date.now);
let seq = 0;

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-bench-'));
const server = await startServer({
  port: 0,
  databaseUrl: join(folder, 'ledger.db'),
  webFolder: 'nowhere',
  log: pino({ level: 'silent' }),
  limits: { requestsPerMinute: 1_000_000, signIns: 100_000 },
});

try {
  const owner = await addPerson('owner@example.com', 'owner');
  const ownerPhone = await signIn('owner@example.com');
  await send(ownerPhone, firmFacts(owner));

  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const facts = Array.from({ length: BATCH }, (_, index) =>
      seen(owner, round % PROPERTIES, index % STATIONS),
    );
    times.push(await timed(() => send(ownerPhone, facts)));
  }
  report(`one batch of ${BATCH} facts of one property, acknowledged durably`, times);

  const spread: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const facts = Array.from({ length: BATCH }, (_, index) =>
      seen(owner, (round + Math.floor(index / 25)) % PROPERTIES, index % STATIONS),
    );
    spread.push(await timed(() => send(ownerPhone, facts)));
  }
  report(`one batch of ${BATCH} facts of 20 properties (a day's round)`, spread);

  const phones = await Promise.all(
    Array.from({ length: PHONES }, async (_, index) => {
      const email = `phone-${index}@example.com`;
      return { id: await addPerson(email, 'technician'), cookie: await signIn(email) };
    }),
  );
  const batches = phones.map(({ id }, phone) =>
    Array.from({ length: BATCH }, (_, index) =>
      seen(id, (phone + Math.floor(index / 25)) % PROPERTIES, index % STATIONS),
    ),
  );
  const waits: number[] = [];
  const whole = await timed(async () => {
    await Promise.all(
      phones.map(async ({ cookie }, phone) => {
        waits.push(await timed(() => send(cookie, batches[phone] ?? [])));
      }),
    );
  });
  report(`${PHONES} phones at once, ${BATCH} facts each: wait of one phone`, waits);
  console.log(
    `${PHONES * BATCH} facts in ${whole.toFixed(0)} ms: ${Math.round((PHONES * BATCH * 1000) / whole)} facts/s`,
  );

  const check = await server.ledger.verify(FIRM.id);
  const expected = 2 + PROPERTIES * (2 + STATIONS) + 2 * ROUNDS * BATCH + PHONES * BATCH;
  if (!check.sound || check.facts !== expected) {
    throw new Error(`expected ${expected} facts in a sound chain, found ${JSON.stringify(check)}`);
  }
  console.log(`all ${expected} acknowledged facts are in the ledger; chain sound; ${cpus().length} cores`);
} finally {
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
}

async function addPerson(email: string, role: 'owner' | 'technician'): Promise<string> {
  return seedAccount(server.accounts, FIRM, {
    name: 'Invented',
    email,
    role,
    branch: null,
    licenceNumber: null,
    certificationNumber: null,
    password: 'bench password, invented',
  });
}

async function signIn(email: string): Promise<string> {
  const answer = await fetch(`${server.url}/api/auth/sign-in`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: server.url },
    body: JSON.stringify({ email, password: 'bench password, invented' }),
  });
  if (answer.status !== 200) throw new Error(`sign-in: ${answer.status}`);
  return answer.headers
    .getSetCookie()
    .map((line) => line.split(';')[0])
    .join('; ');
}

async function send(cookie: string, facts: readonly AnyFact[]): Promise<void> {
  const answer = await fetch(`${server.url}/api/facts`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: server.url, cookie },
    body: JSON.stringify({ facts }),
  });
  const text = await answer.text();
  if (answer.status !== 200) throw new Error(`${answer.status}: ${text.slice(0, 500)}`);
  const { verdicts }: { verdicts: readonly { verdict: string }[] } = JSON.parse(text);
  const refused = verdicts.find(({ verdict }) => verdict !== 'accepted');
  if (verdicts.length !== facts.length || refused !== undefined) {
    throw new Error(`not all accepted: ${JSON.stringify(refused)}`);
  }
}

async function timed(work: () => Promise<void>): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

function report(what: string, milliseconds: readonly number[]): void {
  const sorted = milliseconds.toSorted((a, b) => a - b);
  const at = (share: number): string => (sorted[Math.ceil(share * sorted.length) - 1] ?? 0).toFixed(0);
  console.log(
    `${what}: median ${at(0.5)} ms, p95 ${at(0.95)} ms, worst ${at(1)} ms (${sorted.length} times)`,
  );
}

function head(by: string, property: string | null, station: string | null) {
  seq += 1;
  const millis = START + seq * 1000;
  return {
    id: newId(),
    firm: FIRM.id,
    property,
    station,
    by,
    device: `device-${by}`,
    seq,
    at: new Date(millis).toISOString().replace('Z', '+00:00'),
    clock: `${String(millis).padStart(15, '0')}.00000`,
  };
}

function firmFacts(by: string): readonly AnyFact[] {
  const facts: AnyFact[] = [
    { ...head(by, null, null), kind: 'profile set', body: DEMO_PROFILE },
    {
      ...head(by, null, null),
      kind: 'branch added',
      body: { branch: 'main', name: 'Main', timeZone: 'America/New_York' },
    },
  ];
  for (let property = 0; property < PROPERTIES; property += 1) {
    const id = `p${property}`;
    facts.push({
      ...head(by, id, null),
      kind: 'property added',
      body: {
        name: `House ${property}`,
        branch: 'main',
        address: {
          street: `${property + 1} Pretend Lane`,
          town: 'Nowhere Falls',
          state: 'FL',
          postcode: '00000',
        },
        customer: { name: 'A. Sample', email: null, phone: null },
        timeZone: 'America/New_York',
        profile: DEMO_PROFILE.id,
        agreement: null,
        accessNotes: '',
        hazards: '',
        position: null,
      },
    });
    facts.push({
      ...head(by, id, null),
      kind: 'structure added',
      body: { structure: `${id}-house`, name: 'House', foundation: 'slab', outline: null },
    });
    for (let station = 0; station < STATIONS; station += 1) {
      facts.push({
        ...head(by, id, `${id}-s${station}`),
        kind: 'station installed',
        body: {
          structure: `${id}-house`,
          number: station + 1,
          tag: null,
          model: 'two-part',
          position: null,
          auxiliary: false,
          visit: null,
          inserts: [
            { slot: 'base', insert: 'monitor' },
            { slot: 'top', insert: 'monitor' },
          ],
          application: null,
        },
      });
    }
  }
  return facts;
}

function seen(by: string, property: number, station: number): AnyFact {
  return {
    ...head(by, `p${property}`, `p${property}-s${station}`),
    kind: 'station seen',
    body: {
      visit: `p${property}-${seq}`,
      task: 'check',
      finding: {
        reach: 'opened',
        termites: 'none',
        baitLeft: 'no bait',
        monitor: 'sound',
        housing: 'sound',
        occupants: 'none',
      },
      work: {
        yearlyServiceDone: false,
        baseMonitorLifted: false,
        cleanedOut: false,
        fitted: [],
        withdrawn: [],
        partsUsed: {},
        minutes: 2,
      },
      application: null,
      note: '',
      photos: [],
    },
  };
}
