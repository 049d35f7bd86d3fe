/** An invented office for the benches of the desk: branches, drivers, parts, stock and a round of today, and facts of one's own. */
import { createIdMaker, type RunningServer } from '@sillwatch/server';
import type { AnyFact } from '@sillwatch/trade';
import { BRANCHES, FIRM, STATIONS } from './deskFirm.ts';

/** The invented records end in March 2017. */
const BENCH_NOW = Date.UTC(2017, 2, 20, 15);

/** The clock of this process stands some days after the last record, so that as much is due as at a firm that is at work. Returns its day. */
export function turnClockBack(): string {
  const behind = Date.now() - BENCH_NOW;
  const realNow = Date.now;
  Date.now = () => realNow() - behind;
  return new Date(Date.now()).toISOString().slice(0, 10);
}

export interface Office {
  readonly fact: (kind: string, body: unknown, property?: string | null, station?: string | null) => AnyFact;
  /** Throws when one is not taken. */
  readonly append: (facts: readonly AnyFact[]) => Promise<void>;
  readonly setUp: (today: string) => Promise<void>;
  /** Gives the houses of a branch a place on the earth, so that its rounds can be planned. */
  readonly place: (branch: number, properties: number) => Promise<void>;
}

export function createOffice(server: RunningServer): Office {
  const newId = createIdMaker(Date.now);
  const device = `bench-${process.pid}`;
  let seq = 5_000_000;

  return { fact, append, setUp, place };

  async function append(facts: readonly AnyFact[]): Promise<void> {
    const verdicts = await server.ledger.append(FIRM.id, facts, new Date(Date.now()).toISOString());
    const refused = verdicts.find(({ verdict }) => verdict !== 'accepted');
    if (refused !== undefined) throw new Error(JSON.stringify(refused));
  }

  function fact(
    kind: string,
    body: unknown,
    property: string | null = null,
    station: string | null = null,
  ): AnyFact {
    seq += 1;
    const now = Date.now();
    return {
      id: newId(),
      firm: FIRM.id,
      property,
      station,
      by: 'driver-0-0',
      device,
      seq,
      at: new Date(now).toISOString().replace('Z', '+00:00'),
      clock: `${String(now).padStart(15, '0')}.${String(seq % 100_000).padStart(5, '0')}`,
      kind,
      body,
    };
  }

  async function place(branch: number, properties: number): Promise<void> {
    const facts: AnyFact[] = [];
    for (let index = branch; index < properties; index += BRANCHES) {
      // An even scatter of some 25 miles about the yard (golden angle).
      const angle = 2.399963 * index;
      const away = 0.36 * Math.sqrt(index / properties);
      const position = { latitude: 30 + away * Math.sin(angle), longitude: -84 + away * Math.cos(angle) };
      facts.push(fact('property changed', { position }, `house-${index}`));
    }
    await append(facts);
  }

  /** Branches, drivers, parts, stock, an order, and one round of today. */
  async function setUp(today: string): Promise<void> {
    const place = { latitude: 30, longitude: -84 };
    const facts: AnyFact[] = [];
    for (let branch = 0; branch < BRANCHES; branch += 1) {
      const id = `branch-${branch}`;
      facts.push(
        fact('branch added', { branch: id, name: `Branch ${branch}`, timeZone: 'America/New_York' }),
      );
      for (let driver = 0; driver < 6; driver += 1)
        facts.push(
          fact('technician set', {
            person: `driver-${branch}-${driver}`,
            name: `Driver ${branch} ${driver}`,
            branch: id,
            licenceNumber: null,
            start: place,
            end: place,
            hours: [{ weekday: 1, from: '08:00', to: '16:30' }],
            breakMinutes: 30,
            mostOvertimeMinutes: 60,
            skills: [],
            active: true,
          }),
        );
    }
    for (const [part, leadDays] of [
      ['base-monitor', 10],
      ['top-monitor', 10],
      ['bait-insert', 14],
      ['housing-two-part', 21],
    ] as const) {
      facts.push(
        fact('part set', {
          part,
          name: part,
          packSize: 25,
          leadDays,
          baitGrams: part === 'bait-insert' ? 120 : null,
        }),
      );
      for (let branch = 0; branch < BRANCHES; branch += 1)
        facts.push(
          fact('stock counted', {
            place: `branch-${branch}`,
            part,
            count: 400,
            lot: null,
            usableUntil: null,
          }),
        );
      facts.push(
        fact('stock counted', { place: 'driver-0-0', part, count: 40, lot: null, usableUntil: null }),
      );
    }
    facts.push(
      fact('parts ordered', {
        order: newId(),
        place: 'branch-0',
        part: 'base-monitor',
        count: 500,
        orderedOn: today,
        expectedOn: '2099-01-01',
        reference: '',
      }),
    );
    const visits = Array.from({ length: 8 }, (_, n) => ({
      visit: `round-${n}`,
      property: `house-${n * BRANCHES}`,
      startsAt: `${today}T0${n + 1}:00:00Z`,
      endsAt: `${today}T0${n + 1}:40:00Z`,
      driveMinutes: 10,
      driveMetres: 5000,
      works: Array.from({ length: STATIONS }, (_, s) => ({
        station: `house-${n * BRANCHES}-s${s + 1}`,
        work: 'check',
      })),
      asks: [],
      frozen: false,
    }));
    const round = { plan: 'bench', branch: 'branch-0', person: 'driver-0-0', day: today };
    const hours = { startsAt: `${today}T00:30:00Z`, endsAt: `${today}T09:30:00Z`, breakMinutes: 30 };
    facts.push(fact('round published', { ...round, ...hours, travel: 'great circle', visits }));
    await append(facts);
  }
}
