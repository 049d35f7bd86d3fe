import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AnyFact,
  BAIT_LEFT,
  baitSlotsOf,
  CORRECTION,
  checkBody,
  correctLook,
  DEMO_PROFILE,
  dueWork,
  type Finding,
  foldProperty,
  foldStock,
  getDay,
  HOUSING_CONDITIONS,
  type LookChange,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  type StationSeenBody,
  TERMITE_FINDINGS,
} from '../../src/index.ts';
import { APPLICATION, BAIT_IN_TOP, createBook, NO_WORK, opened } from '../state/book.ts';

const HIT: StationSeenBody = {
  visit: 'visit',
  task: 'yearly service',
  finding: opened({ termites: 'live on monitor' }),
  work: { ...NO_WORK, ...BAIT_IN_TOP, partsUsed: { 'bait-insert': 2, 'cap-two-part': 1 }, minutes: 4 },
  application: APPLICATION,
  note: 'by the hose',
  photos: [],
};
const asRecorded: LookChange = { finding: HIT.finding, baitSlots: ['top'], application: APPLICATION };

describe('a look said anew', () => {
  it('is what was recorded, where nothing is put right', () => {
    expect(correctLook(HIT, asRecorded, 'bait-insert')).toEqual(HIT);
  });

  it('without bait gives back one piece of it and keeps the rest of the count and of the work', () => {
    const said = correctLook(HIT, { ...asRecorded, baitSlots: [], application: null }, 'bait-insert');
    expect(said.work).toEqual({
      ...HIT.work,
      fitted: [],
      partsUsed: { 'bait-insert': 1, 'cap-two-part': 1 },
    });
    expect(said.application).toBeNull();
  });

  it('with bait where a monitor was said to go in has the bait there', () => {
    const monitors = {
      ...HIT,
      work: { ...NO_WORK, fitted: [{ slot: 'top', insert: 'monitor' } as const], partsUsed: {} },
      application: null,
    };
    const { work } = correctLook(monitors, asRecorded, 'bait-insert');
    expect(work.fitted).toEqual([{ slot: 'top', insert: 'bait' }]);
    expect(work.partsUsed).toEqual({ 'bait-insert': 1 });
  });

  it('of a station that nobody opened claims no work, no parts and no bait', () => {
    const finding: Finding = { reach: 'blocked', why: 'a car stands on it' };
    const said = correctLook(HIT, { ...asRecorded, finding }, 'bait-insert');
    expect(said).toEqual({ ...HIT, finding, work: { ...NO_WORK, minutes: 4 }, application: null });
    expect(checkBody('station seen', said)).toEqual([]);
  });

  it('with bait and no use record has not the form of a look (7 CFR 110.3(a))', () => {
    const said = correctLook(HIT, { ...asRecorded, application: null }, 'bait-insert');
    expect(checkBody('station seen', said)).toMatchObject([
      { path: 'body.application', code: 'legal field missing' },
    ]);
  });
});

const findings: fc.Arbitrary<Finding> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({
      reach: fc.constant('opened' as const),
      termites: fc.constantFrom(...TERMITE_FINDINGS),
      baitLeft: fc.constantFrom(...BAIT_LEFT),
      monitor: fc.constantFrom(...MONITOR_CONDITIONS),
      housing: fc.constantFrom(...HOUSING_CONDITIONS),
      occupants: fc.constantFrom(...OCCUPANTS),
    }),
  },
  { weight: 1, arbitrary: fc.constant({ reach: 'blocked', why: 'a car stands on it' } as const) },
);
const changes: fc.Arbitrary<LookChange> = fc
  .tuple(findings, fc.boolean(), fc.integer({ min: 1, max: 300 }))
  .map(([finding, isBaited, grams]) => {
    const isIn = isBaited && finding.reach === 'opened';
    return {
      finding,
      baitSlots: isIn ? ['top'] : [],
      application: isIn ? { ...APPLICATION, grams } : null,
    };
  });
const DAYS = ['2024-03-04', '2024-06-03', '2024-09-02', '2024-12-02'];

/** Four looks at a station; `wrong` is what the record said at one of them before it was put right. */
function fourLooks(
  right: readonly LookChange[],
  wrong?: { readonly look: number; readonly change: LookChange },
) {
  const book = createBook();
  const blank = correctLook(HIT, { finding: opened(), baitSlots: [], application: null }, 'bait-insert');
  const bodyOf = (change: LookChange) =>
    correctLook({ ...blank, work: { ...blank.work, partsUsed: {} } }, change, 'bait-insert');
  book.install('s1', '2024-01-08T09:00:00-05:00');
  book.add('stock counted', null, '2024-01-09T09:00:00-05:00', {
    place: 'person-1',
    part: 'bait-insert',
    lot: 'A',
    count: 10,
    usableUntil: null,
  });
  const looks = DAYS.map((day, index) => {
    const change = wrong?.look === index ? wrong.change : (right[index] ?? asRecorded);
    return book.add('station seen', 's1', `${day}T09:00:00-05:00`, bodyOf(change));
  });
  if (wrong === undefined) return book.facts;
  const look = looks[wrong.look];
  const change = right[wrong.look];
  if (look === undefined || change === undefined) throw new Error('no such look');
  book.add(CORRECTION, 's1', '2025-01-06T09:00:00-05:00', {
    corrects: look.id,
    why: 'read from the wrong line',
    body: correctLook(look.body as StationSeenBody, change, 'bait-insert'),
    at: null,
  });
  return book.facts;
}

/** All that the rules make of facts. */
function verdictsOf(facts: readonly AnyFact[]) {
  const { stations } = foldProperty(facts);
  return { stations, due: dueWork(stations, DEMO_PROFILE, getDay('2025-01-07')), stock: foldStock(facts) };
}

describe('a corrected look', () => {
  it('gives the state, the due work and the stock of one that was recorded right at once', () => {
    fc.assert(
      fc.property(
        fc.array(changes, { minLength: 4, maxLength: 4 }),
        fc.nat(3),
        changes,
        (right, look, change) => {
          const facts = fourLooks(right, { look, change });
          expect(verdictsOf(facts)).toEqual(verdictsOf(fourLooks(right)));
          for (const { kind, body } of facts) expect(checkBody(kind, body)).toEqual([]);
        },
      ),
      { numRuns: 400 },
    );
  });

  it('moves what is due and what the truck holds, told from a case by hand', () => {
    const nothing: LookChange = { finding: opened(), baitSlots: [], application: null };
    const right = [
      nothing,
      nothing,
      asRecorded,
      { ...nothing, finding: opened({ termites: 'live on bait' }) },
    ];
    const before = verdictsOf(fourLooks(right.with(2, nothing).with(3, nothing)));
    const after = verdictsOf(fourLooks(right, { look: 2, change: nothing }));
    expect(before.stations[0]?.phase).toBe('monitoring');
    expect(after.stations[0]?.phase).toBe('feeding');
    expect(after.stations[0]?.slots.find(({ slot }) => slot === 'top')?.insert).toBe('bait');
    expect(before.due.items.some(({ work }) => work === 'baited check')).toBe(false);
    expect(after.due.items.some(({ work }) => work === 'baited check')).toBe(true);
    expect(before.stock.map(({ count }) => count)).toEqual([10]);
    expect(after.stock.map(({ count }) => count)).toEqual([9]);
    expect(baitSlotsOf(HIT.work)).toEqual(['top']);
  });
});
