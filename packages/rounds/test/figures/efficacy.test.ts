import { DEMO_PROFILE, getDay } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import {
  CRITERIA_CAUTION,
  changeOverYear,
  doneWorks,
  funnelOf,
  groupedTimes,
  publishedCriteria,
  quartersUntil,
  ratesIn,
  seasonOf,
  sentenceText,
  stationRuns,
  stationWatches,
  structureRuns,
  structureWatches,
  subjectOf,
  timeToClear,
  timeToFirstHit,
} from '../../src/index.ts';
import { demoBook, TODAY } from '../support/demoFirm.ts';
import { BAIT_IN, writeFacts } from '../support/makeFacts.ts';

const day = getDay;

function oneHit() {
  const facts = writeFacts();
  facts.install('2024-01-10', 's1');
  facts.install('2024-01-10', 's2');
  facts.install('2024-01-10', 's3', 'garage');
  facts.see('2024-04-01', 's1');
  facts.see('2024-04-01', 's2');
  facts.see('2024-07-01', 's1', { termites: 'live on monitor', work: BAIT_IN });
  facts.see('2024-07-01', 's2');
  facts.see('2024-08-15', 's1', { termites: 'live on bait', baitLeft: 'half' });
  facts.see('2024-10-01', 's1', { baitLeft: 'half' });
  facts.see('2024-10-01', 's2', { termites: 'live on monitor' });
  facts.see('2024-10-01', 's3', { reach: 'blocked' });
  facts.see('2024-11-15', 's1', { baitLeft: 'half' });
  facts.see('2025-01-01', 's1', { baitLeft: 'half' });
  facts.see('2025-02-01', 's2');
  return facts;
}

/** Houses at each of which so many stations are hit on one day; all set on the same day. */
function hitAt(houses: number, stations: number, on: string) {
  return Array.from({ length: houses }, (_, house) => {
    const facts = writeFacts(`house ${house} of ${on}`);
    for (let n = 0; n < stations; n += 1) facts.install('2024-01-10', `s${n}`);
    for (let n = 0; n < stations; n += 1) facts.see(on, `s${n}`, { termites: 'live on monitor' });
    return facts;
  });
}

describe('hits from finding to clear', () => {
  it('reads a station’s run: hit, baited, clear at the third look without termites', () => {
    const runs = stationRuns(oneHit().subject());
    expect(runs).toMatchObject([
      { station: 's1', hitOn: day('2024-07-01'), baitedOn: day('2024-07-01'), clearedOn: day('2025-01-01') },
      {
        station: 's2',
        hitOn: day('2024-10-01'),
        baitedOn: null,
        clearedOn: null,
        lastLookOn: day('2025-02-01'),
      },
    ]);
    // One colony, one structure: the two overlap, and the structure is clear only when both are.
    expect(structureRuns(runs)).toMatchObject([
      {
        station: null,
        structure: 'house',
        hitOn: day('2024-07-01'),
        baitedOn: day('2024-07-01'),
        clearedOn: null,
      },
    ]);
  });

  it('reads how long each station and structure was watched', () => {
    const watches = stationWatches(oneHit().subject());
    expect(watches.map(({ station, firstHitOn, lastLookOn }) => [station, firstHitOn, lastLookOn])).toEqual([
      ['s3', null, null],
      ['s1', day('2024-07-01'), day('2025-01-01')],
      ['s2', day('2024-10-01'), day('2025-02-01')],
    ]);
    expect(structureWatches(watches).map(({ structure, firstHitOn }) => [structure, firstHitOn])).toEqual([
      ['garage', null],
      ['house', day('2024-07-01')],
    ]);
  });

  it('opens a new run where termites come back after clearance', () => {
    const facts = oneHit();
    facts.see('2025-06-01', 's1', { termites: 'live on bait', baitLeft: 'half' });
    const own = stationRuns(facts.subject()).filter(({ station }) => station === 's1');
    expect(own.map(({ clearedOn }) => clearedOn)).toEqual([day('2025-01-01'), null]);
  });
});

describe('times until it came', () => {
  it('say too little rather than something of a few', () => {
    const found = timeToFirstHit(stationWatches(oneHit().subject()), 'stations');
    expect(found.all.curve).toBeNull();
    expect(sentenceText(found.all.says)).toBe(
      'Too little to say: 2 of at least 5 events, 2 of at least 10 stations.',
    );
    expect(timeToClear([], 'structures').all).toMatchObject({ subjects: 0, curve: null });
  });

  it('of a group that is quicker are told apart, and a median comes with its interval', () => {
    const quick = Array.from({ length: 20 }, (_, n) => ({ time: 30 + n, event: n < 15, group: 'quick' }));
    const slow = Array.from({ length: 20 }, (_, n) => ({ time: 200 + n, event: n < 15, group: 'slow' }));
    const found = groupedTimes([...quick, ...slow], 'structures');
    expect(found.logRank?.p).toBeLessThan(0.001);
    expect(found.says?.key).toBe('groups differ');
    const [first] = found.groups;
    expect(first?.curve?.median).toBe(39);
    expect(first?.curve?.medianInterval.lower).toBeLessThan(39);
    expect(first?.curve?.restrictedMean.mean).toBeLessThan(49);
    expect(found.all.curve?.after.map(({ days }) => days)).toEqual([90, 180]);
    const says = first?.curve?.restrictedMean.says;
    expect(says?.key).toBe('mean wait');
    expect(Number(says?.values['lower'])).toBeLessThan(first?.curve?.restrictedMean.mean ?? 0);
    expect(Number(says?.values['upper'])).toBeLessThanOrEqual(49);
    const few = groupedTimes([...quick, ...slow.slice(0, 4)], 'structures');
    expect([few.logRank, few.says?.key]).toEqual([null, 'groups too few']);
    expect(groupedTimes(quick, 'structures').says).toBeNull();
  });

  it('season of installation', () => {
    expect(
      ['2025-12-01', '2025-03-01', '2025-08-31', '2025-11-30'].map((text) => seasonOf(day(text))),
    ).toEqual(['1 winter', '2 spring', '3 summer', '4 autumn']);
  });
});

describe('rates', () => {
  it('count hits, station-quarters, monitors lost and stations not opened where they belong', () => {
    const facts = oneHit();
    facts.see('2024-12-01', 's3', { monitor: 'missing' });
    const rates = ratesIn([facts.subject()], quartersUntil(day('2024-12-31'), 4));
    expect(rates.map(({ period }) => period.name)).toEqual(['2024 Q1', '2024 Q2', '2024 Q3', '2024 Q4']);
    expect(rates.map(({ hits }) => hits)).toEqual([0, 0, 1, 1]);
    expect(rates.map(({ notOpened }) => notOpened)).toEqual([0, 0, 0, 1]);
    expect(rates[3]?.monitorsLost).toBe(1);
    // Three stations, 82 of 91.3 days of the first quarter of 2024.
    expect(rates[0]?.stationQuarters).toBeCloseTo((3 * 82) / (365.25 / 4), 9);
    expect(rates[2]?.hitRate?.estimate).toBeCloseTo(1 / ((3 * 92) / (365.25 / 4)), 9);
  });
  it('of two years are compared only where there is enough', () => {
    expect(changeOverYear([oneHit().subject()], day('2025-06-01'))).toMatchObject({
      ratio: null,
      says: { key: 'too little to say' },
    });
    // Many hits, but all in the firm's first year, or all at one house: neither says that a year differs from another.
    const young = hitAt(12, 1, '2024-07-01').map((facts) => facts.subject());
    expect(sentenceText(changeOverYear(young, day('2024-12-31')).says)).toBe(
      'Too little to say: 12 of at least 10 events, 1 of at least 2 years.',
    );
    const oneHouse = hitAt(1, 12, '2024-07-01').map((facts) => facts.subject());
    expect(sentenceText(changeOverYear(oneHouse, day('2025-06-30')).says)).toBe(
      'Too little to say: 12 of at least 10 events, 1 of at least 5 structures.',
    );
    const book = demoBook(7, 60);
    const subjects = book.histories.flatMap((history, at) => {
      const state = book.states[at];
      return state === undefined ? [] : [subjectOf(history, state, DEMO_PROFILE)];
    });
    const { ratio, now, before } = changeOverYear(subjects, TODAY);
    const plain = now.hits / now.stationQuarters / (before.hits / before.stationQuarters);
    expect(ratio?.estimate).toBeCloseTo(plain, 9);
  });
  it('of two years are not told apart by a few houses whose stations share a colony', () => {
    const alone = [...hitAt(8, 1, '2024-07-01'), ...hitAt(24, 1, '2025-07-01')];
    const shared = [...hitAt(2, 4, '2024-07-01'), ...hitAt(6, 4, '2025-07-01')];
    const read = (all: typeof alone) =>
      changeOverYear(
        all.map((facts) => facts.subject()),
        day('2025-12-31'),
      );
    expect([read(alone).now.hits, read(alone).before.hits]).toEqual([24, 8]);
    expect([read(shared).now.hits, read(shared).before.hits]).toEqual([24, 8]);
    expect(read(alone).says.key).toBe('rate rose');
    expect(read(shared).designEffect).toBeGreaterThan(3);
    expect(read(shared).says.key).toBe('rate unchanged');
  });
});

describe('windows kept', () => {
  it('holds each look to the window that the one before opened, and leaves carried-over services out', () => {
    const facts = writeFacts();
    facts.install('2024-01-10', 's1');
    // The demo profile (invented): first check by 90 days, checks by 4 months, with bait by 60 days, yearly by 15 months.
    facts.see('2024-04-09', 's1');
    facts.see('2024-08-10', 's1');
    facts.see('2024-11-01', 's1', { termites: 'live on monitor', work: BAIT_IN, task: 'yearly service' });
    facts.see('2025-01-05', 's1', { baitLeft: 'half' });
    facts.see('2025-02-05', 's1', { baitLeft: 'half', work: { yearlyServiceDone: true } });
    const done = doneWorks(facts.subject());
    expect(done.map(({ work, kept }) => [work, kept])).toEqual([
      ['look', true],
      ['look', false],
      ['look', true],
      ['look', false],
      ['look', true],
    ]);
  });
});

describe('funnels', () => {
  it('do not take noise or a hard yard for fault, and see what is neither', () => {
    const yards = (key: string, bad: number) =>
      Array.from({ length: 20 }, (_, n) => ({
        key,
        property: `${key}-${n}`,
        events: bad + (n % 2),
        trials: 50,
      }));
    const alike = funnelOf([...yards('a', 2), ...yards('b', 2), ...yards('c', 2)]);
    expect(alike.points.map(({ standing }) => standing)).toEqual([
      'as the rest',
      'as the rest',
      'as the rest',
    ]);
    const apart = funnelOf([...yards('a', 2), ...yards('b', 2), ...yards('c', 12)]);
    expect(apart.points.find(({ key }) => key === 'c')?.standing).toBe('beyond 99.8 %');
    // One dreadful yard among twenty: the effect of clustering widens the limits.
    const oneYard = funnelOf([
      ...yards('a', 2),
      ...yards('b', 2).map((one, n) => (n === 0 ? { ...one, events: 45 } : one)),
    ]);
    expect(oneYard.designEffect).toBeGreaterThan(5);
    expect(oneYard.points.every(({ standing }) => standing === 'as the rest')).toBe(true);
    expect(funnelOf([{ key: 'new', property: 'p', events: 1, trials: 6 }]).points[0]?.standing).toBe(
      'too little to say',
    );
    expect(funnelOf([])).toMatchObject({ target: null, points: [], says: { key: 'funnel too few' } });
    // Alone, or with next to nothing recorded, nobody "lies where chance puts them".
    expect(funnelOf(yards('a', 2)).says.key).toBe('funnel too few');
    const young = funnelOf(
      ['a', 'b'].map((key) => ({ key, property: `of ${key}`, events: key === 'a' ? 1 : 0, trials: 6 })),
    );
    expect(sentenceText(young.says)).toBe(
      'Too little to say: fewer than two of 2 have enough to be held against each other.',
    );
    expect(alike.says).toEqual({ key: 'funnel inside', values: { points: 3 } });
    const edge = funnelOf([...yards('a', 2), ...yards('b', 2), ...yards('c', 2), ...yards('d', 3)]);
    expect(edge.points.map(({ standing }) => standing)).toContain('beyond 95 %');
    expect(edge.says).toEqual({ key: 'funnel edge', values: { points: 4, edge: 1 } });
  });
});

describe('published criteria', () => {
  it('answers only what stations can answer, and says that it is no registration study', () => {
    const page = publishedCriteria([oneHit().subject()], day('2026-01-01'));
    expect(page.caution).toBe(CRITERIA_CAUTION);
    expect(page.caution).toMatch(/no registration study/);
    expect(page.criteria.map(({ id, share }) => [id, share])).toEqual([
      ['free of termites, preventive use', null],
      ['gone within 12 months, remedial use', null],
      ['colonies suppressed', null],
      ['current standards', null],
    ]);
    expect(page.criteria.map(({ says }) => says.key)).toEqual([
      'structures are not inspected',
      'too little to say',
      'too little to say',
      'take it from the guideline',
    ]);
    expect(page.criteria.map(({ asked }) => asked)).toEqual([1, 1, 0.8, null]);
  });
  it('counts a structure whether it became clear or not, once a year has gone since baiting', () => {
    const subjects = Array.from({ length: 12 }, (_, n) => {
      const facts = writeFacts(`p${n}`);
      facts.install('2024-01-10', 's1');
      facts.see('2024-04-01', 's1', { termites: 'live on monitor', work: BAIT_IN });
      for (const text of ['2024-06-01', '2024-08-01', '2024-10-01'])
        if (n < 9) facts.see(text, 's1', { baitLeft: 'half' });
      // Two more became clear, later than a year after baiting.
      for (const text of ['2025-04-02', '2025-04-10', '2025-04-20'])
        if (n >= 9 && n < 11) facts.see(text, 's1', { baitLeft: 'half' });
      return facts.subject();
    });
    const { criteria } = publishedCriteria(subjects, day('2025-05-01'));
    expect(criteria[1]?.share).toMatchObject({ events: 9, trials: 12, estimate: 0.75 });
    expect(criteria[2]?.share).toMatchObject({ events: 11, trials: 12 });
    // Too early for all: nobody is counted for having become clear soon.
    expect(publishedCriteria(subjects, day('2025-01-01')).criteria[1]?.share).toBeNull();
  });
});
