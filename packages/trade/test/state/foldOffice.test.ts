import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AnyFact,
  checkFact,
  foldFirm,
  foldOrders,
  foldRounds,
  foldStock,
  foldStockEvents,
  type RoundBody,
  stockEvents,
} from '../../src/index.ts';
import { createBook, opened } from './book.ts';

const ROUND: RoundBody = {
  plan: 'plan-1',
  branch: 'branch-1',
  person: 'person-1',
  day: '2026-03-02',
  startsAt: '2026-03-02T08:00:00-05:00',
  endsAt: '2026-03-02T16:00:00-05:00',
  breakMinutes: 30,
  travel: 'great circle',
  visits: [
    {
      visit: 'visit-1',
      property: 'property-1',
      startsAt: '2026-03-02T08:30:00-05:00',
      endsAt: '2026-03-02T09:00:00-05:00',
      driveMinutes: 30,
      driveMetres: 20_000,
      works: [{ station: 's1', work: 'check' }],
      asks: [],
      frozen: false,
    },
  ],
};

describe('rounds', () => {
  it('are the last that were sent out of a person and day; an emptied one is gone', () => {
    const book = createBook();
    book.add('round published', null, '2026-02-27T10:00:00-05:00', ROUND);
    book.add('round published', null, '2026-02-27T10:00:01-05:00', { ...ROUND, day: '2026-03-03' });
    book.add('round published', null, '2026-02-27T10:00:02-05:00', { ...ROUND, person: 'person-2' });
    book.add('round published', null, '2026-02-28T10:00:00-05:00', { ...ROUND, plan: 'plan-2' });
    book.add('round published', null, '2026-02-28T10:00:01-05:00', {
      ...ROUND,
      day: '2026-03-03',
      visits: [],
    });
    const rounds = foldRounds(book.facts);
    expect(rounds.map(({ day, person, plan }) => [day, person, plan])).toEqual([
      ['2026-03-02', 'person-1', 'plan-2'],
      ['2026-03-02', 'person-2', 'plan-1'],
    ]);
    fc.assert(
      fc.property(fc.shuffledSubarray(book.facts, { minLength: book.facts.length }), (facts) => {
        expect(foldRounds(facts)).toEqual(rounds);
      }),
    );
  });
});

describe('stock', () => {
  const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00-05:00`;
  const line = { place: 'person-1', part: 'bait', usableUntil: null } as const;

  it('is counted, received, moved and used, the lot that expires first before the others', () => {
    const book = createBook();
    book.install('s1', '2025-01-10T09:00:00-05:00');
    book.add('stock counted', null, at(6), { ...line, count: 3, lot: 'B', usableUntil: '2027-12-31' });
    book.add('stock received', null, at(7), { ...line, count: 2, lot: 'A', usableUntil: '2026-12-31' });
    book.add('stock moved', null, at(8), {
      from: 'branch-1',
      to: 'person-1',
      part: 'bait',
      count: 1,
      lot: 'B',
    });
    book.see('s1', at(9), opened({ termites: 'live on bait', baitLeft: 'gone' }), {
      partsUsed: { bait: 3, cap: 1 },
    });
    const held = (place: string) =>
      foldStock(book.facts)
        .filter((each) => each.place === place)
        .map(({ part, lot, count }) => [part, lot, count]);
    expect(held('person-1')).toEqual([
      ['bait', 'A', 0],
      ['bait', 'B', 3],
    ]);
    expect(held('branch-1')).toEqual([['bait', 'B', -1]]);
  });

  it('is the same from changes read apart, property by property, in any order', () => {
    const book = createBook();
    book.install('s1', '2025-01-10T09:00:00-05:00');
    book.add('stock counted', null, at(6), { ...line, count: 9, lot: null });
    book.see('s1', at(9), opened(), { partsUsed: { bait: 2 } });
    const recount = book.add('stock counted', null, at(10), { ...line, count: 6, lot: null });
    book.see('s1', at(11), opened(), { partsUsed: { bait: 1 } });
    book.add('fact corrected', null, at(12), {
      corrects: recount.id,
      why: 'counted the other shelf',
      body: { ...line, count: 4, lot: null },
      at: null,
    });
    const [atStations, ofFirm] = [true, false].map((isStation) =>
      stockEvents(book.facts.filter(({ station }) => (station !== null) === isStation)),
    );
    expect(foldStock(book.facts)).toMatchObject([{ count: 3 }]);
    expect(foldStockEvents([...(atStations ?? []), ...(ofFirm ?? [])])).toEqual(foldStock(book.facts));
  });

  it('shows what was used beyond what was ever counted as a count below nothing', () => {
    const book = createBook();
    book.install('s1', '2025-01-10T09:00:00-05:00');
    book.add('stock counted', null, at(6), { ...line, count: 1, lot: null });
    book.see('s1', at(9), opened(), { partsUsed: { bait: 2 } });
    expect(foldStock(book.facts)).toMatchObject([{ part: 'bait', count: -1 }]);
  });
});

describe('orders', () => {
  const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00-05:00`;
  const ordered = {
    order: 'order-1',
    place: 'branch-1',
    part: 'bait',
    count: 50,
    orderedOn: '2026-03-02',
    expectedOn: '2026-03-16',
    reference: 'our 17',
  } as const;
  const came = { place: 'branch-1', part: 'bait', lot: 'A', usableUntil: null, order: 'order-1' } as const;

  function ordersBook() {
    const book = createBook('desk-a', 'firm-1', '');
    const first = book.add('parts ordered', null, at(8), ordered);
    book.add('parts ordered', null, at(9), { ...ordered, order: 'order-2', count: 20, reference: '' });
    book.add('stock received', null, at(10), { ...came, count: 30 });
    const twice = book.add('stock received', null, at(11), { ...came, count: 30 });
    book.add('stock received', null, at(12), { ...came, part: 'cap', count: 5 });
    book.add('stock received', null, at(12), { ...came, order: 'order-unknown', count: 7 });
    book.add('stock received', null, at(13), { ...came, order: 'order-2', count: 4 });
    book.add('order cancelled', null, at(14), { order: 'order-2', why: 'no longer made' });
    const wrong = (id: string, body: unknown) =>
      book.add('fact corrected', null, at(15), { corrects: id, why: 'typed wrong', body, at: null });
    return { book, first, twice, wrong };
  }
  const shown = (facts: Iterable<AnyFact>) =>
    foldOrders(facts).map(({ order, count, came: pieces, open, cancelled, expectedOn }) => ({
      order,
      count,
      came: pieces,
      open,
      cancelled,
      expectedOn,
    }));

  it('takes off what came of them, in parts too, and the rest when it was cancelled', () => {
    const { book } = ordersBook();
    expect(shown(book.facts)).toEqual([
      { order: 'order-1', count: 50, came: 60, open: 0, cancelled: null, expectedOn: '2026-03-16' },
      {
        order: 'order-2',
        count: 20,
        came: 4,
        open: 0,
        cancelled: 'no longer made',
        expectedOn: '2026-03-16',
      },
    ]);
    // All of it is stock, whatever it answers.
    expect(foldStock(book.facts).map(({ part, count }) => [part, count])).toEqual([
      ['bait', 71],
      ['cap', 5],
    ]);
  });

  it('stands corrected: a receipt typed twice is open again, an order moves to the day that the supplier names', () => {
    const { book, first, twice, wrong } = ordersBook();
    wrong(twice.id, null);
    wrong(first.id, { ...ordered, expectedOn: '2026-03-30' });
    expect(shown(book.facts)[1]).toEqual({
      order: 'order-1',
      count: 50,
      came: 30,
      open: 20,
      cancelled: null,
      expectedOn: '2026-03-30',
    });
    wrong(first.id, null);
    expect(shown(book.facts).map(({ order }) => order)).toEqual(['order-2']);
  });

  it('are the same in any order of arrival, with duplicates, and in any split', () => {
    const { book, first, twice, wrong } = ordersBook();
    wrong(twice.id, null);
    wrong(first.id, { ...ordered, count: 40 });
    const expected = foldOrders(book.facts);
    fc.assert(
      fc.property(
        fc.shuffledSubarray(book.facts, { minLength: book.facts.length }),
        fc.subarray(book.facts),
        fc.nat(book.facts.length),
        (facts, again, split) => {
          const arrived = [...facts.slice(split), ...again, ...facts.slice(0, split)];
          expect(foldOrders(arrived)).toEqual(expected);
          expect(foldStock(arrived)).toEqual(foldStock(book.facts));
        },
      ),
    );
  });

  it('are refused by place and remedy where they make no sense', () => {
    const { first } = ordersBook();
    const at = (body: unknown) => checkFact({ ...first, property: null, body }).map(({ path }) => path);
    expect(at(ordered)).toEqual([]);
    expect(at({ ...ordered, expectedOn: '2026-03-01' })).toEqual(['body.expectedOn']);
    expect(at({ ...ordered, count: 0 })).toEqual(['body.count']);
    expect(at({ ...ordered, reference: null })).toEqual(['body.reference']);
  });
});

describe('the firm', () => {
  it('keeps the latest of each technician, closed days in order, and links until they are withdrawn', () => {
    const book = createBook('phone-a', 'firm-1', '');
    const facts = () => book.facts.map((fact) => ({ ...fact, property: null }));
    const person = {
      person: 'person-1',
      name: 'A. Person',
      branch: 'branch-1',
      licenceNumber: null,
      start: { latitude: 1, longitude: 2 },
      end: { latitude: 1, longitude: 2 },
      hours: [{ weekday: 1, from: '08:00', to: '16:30' }],
      breakMinutes: 30,
      mostOvertimeMinutes: 60,
      skills: [],
      active: true,
    };
    book.add('technician set', null, '2026-01-02T08:00:00-05:00', person);
    book.add('technician set', null, '2026-01-03T08:00:00-05:00', { ...person, active: false });
    book.add('branch closed', null, '2026-01-03T08:00:00-05:00', {
      branch: 'branch-1',
      from: '2026-07-03',
      to: '2026-07-04',
      why: 'holiday',
    });
    const rain = book.add('branch closed', null, '2026-01-03T08:00:01-05:00', {
      branch: 'branch-1',
      from: '2026-02-03',
      to: '2026-02-03',
      why: 'rain',
    });
    const season = {
      meanCelsius: 17,
      amplitudeCelsius: 9,
      coldestOn: '01-20',
      depthMetres: 0.3,
      diffusivityMm2PerSecond: 0.5,
      forageFromCelsius: 15,
      source: 'invented',
    };
    book.add('soil season set', null, '2026-01-02T08:00:00-05:00', { branch: 'branch-1', season });
    book.add('soil season set', null, '2026-01-02T08:00:00-05:00', { branch: 'branch-2', season });
    const off = book.add('soil season set', null, '2026-01-03T08:00:00-05:00', {
      branch: 'branch-2',
      season: null,
    });
    expect(foldFirm(facts()).soilSeasons).toEqual({ 'branch-1': season });
    const wrong = { branch: 'branch-1', season: { ...season, coldestOn: '02-29', source: '' } };
    expect(checkFact({ ...off, property: null, body: wrong }).map(({ path }) => path)).toEqual([
      'body.season.coldestOn',
      'body.season.source',
    ]);
    fc.assert(
      fc.property(fc.shuffledSubarray(facts(), { minLength: facts().length }), (shuffled) => {
        expect(foldFirm([...shuffled, ...shuffled.slice(0, 3)])).toEqual(foldFirm(facts()));
      }),
    );
    expect(foldFirm(facts()).technicians['person-1']?.active).toBe(false);
    expect(foldFirm(facts()).closed.map(({ why }) => why)).toEqual(['rain', 'holiday']);
    book.add('fact corrected', null, '2026-01-04T08:00:00-05:00', {
      corrects: rain.id,
      why: 'it stayed dry',
      body: null,
      at: null,
    });
    expect(foldFirm(facts()).closed.map(({ why }) => why)).toEqual(['holiday']);
  });
});
