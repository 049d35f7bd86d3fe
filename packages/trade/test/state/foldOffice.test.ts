import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { foldFirm, foldRounds, foldStock, type RoundBody } from '../../src/index.ts';
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

  it('shows what was used beyond what was ever counted as a count below nothing', () => {
    const book = createBook();
    book.install('s1', '2025-01-10T09:00:00-05:00');
    book.add('stock counted', null, at(6), { ...line, count: 1, lot: null });
    book.see('s1', at(9), opened(), { partsUsed: { bait: 2 } });
    expect(foldStock(book.facts)).toMatchObject([{ part: 'bait', count: -1 }]);
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
