import { DEMO_PROFILE, dueWork, foldFirm, getDay, timelinessOn } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import {
  baitTotals,
  baitUsed,
  bookFigures,
  estimateServiceMinutes,
  minutesAnswer,
  quartersUntil,
  readSubjects,
  reconcileBait,
  SENTENCES,
  sentence,
  sentenceText,
  soilCourse,
  soilMonths,
  soilPreference,
  soilPreferenceOf,
  sumUses,
  toSoilSeason,
} from '../../src/index.ts';
import { demoBook, TODAY } from '../support/demoFirm.ts';
import { applicationOf, BAIT_IN, writeFacts } from '../support/makeFacts.ts';

const NO_FIRM = foldFirm([]);
const profiles = { [DEMO_PROFILE.id]: DEMO_PROFILE };

describe('the owner’s book', () => {
  const book = demoBook(7, 40);
  const { subjects, withoutProfile } = readSubjects(book.factsByProperty, profiles);
  const minutes = estimateServiceMinutes(book.histories);
  const figures = bookFigures({ subjects, withoutProfile, minutes, asOf: TODAY });

  it('counts what the due list says is late, property by property', () => {
    let late = 0;
    for (const { stations } of book.states)
      late += dueWork(stations, DEMO_PROFILE, TODAY).items.filter(
        (item) => timelinessOn(item, TODAY) === 'late',
      ).length;
    expect(late).toBeGreaterThan(0);
    expect(figures.late.count).toBe(late);
    expect(figures.late.items.reduce((sum, { count }) => sum + count, 0)).toBe(late);
    const days = figures.late.items.map(({ day }) => day ?? '');
    expect(days).toEqual([...days].sort());
  });

  it('adds up: visits of the properties, hits of the quarters, minutes of the months', () => {
    const visits = figures.timeAndMaterial.reduce((sum, one) => sum + one.visits, 0);
    const closed = book.histories
      .flatMap((history) => history.visits)
      .filter(({ day }) => day > getDay('2025-11-25') && day <= TODAY);
    expect(visits).toBe(closed.length);
    expect(figures.workload.months.length).toBeGreaterThan(3);
    for (const { visits: count, minutes: spent, interval } of figures.workload.months) {
      expect(count).toBeGreaterThan(0);
      expect(spent).toBeGreaterThan(interval.lower);
      expect(spent).toBeLessThan(interval.upper);
    }
    // Checks come every three months, in windows of two to four: in 67 days about three in four of 40 properties are visited.
    expect(figures.workload.months.reduce((sum, one) => sum + one.visits, 0)).toBeGreaterThan(20);
    expect(figures.hits?.open.count).toBe(
      book.states
        .flatMap(({ stations }) => stations)
        .filter((one) => one.openHitOn !== null && one.termiteFreeLooks < 3).length,
    );
  });

  it('is plain data, and the same each time', () => {
    const text = JSON.stringify(figures);
    expect(text).toBe(JSON.stringify(bookFigures({ subjects, withoutProfile, minutes, asOf: TODAY })));
    expect(text.length).toBeGreaterThan(5000);
    expect(figures.asOf).toBe('2026-11-25');
  });

  it('of an empty firm says nothing, and breaks nothing', () => {
    const empty = bookFigures({
      subjects: [],
      withoutProfile: ['p9'],
      minutes: estimateServiceMinutes([]),
      asOf: TODAY,
    });
    expect(empty).toMatchObject({
      hits: null,
      late: { count: 0 },
      withoutProfile: ['p9'],
      timeAndMaterial: [],
    });
    expect(sentenceText(empty.windowsKept.looks.says)).toBe('None.');
    expect(empty.technicians.windowsMissed.points).toEqual([]);
    expect(minutesAnswer({ subjects: [], withoutProfile: [], firm: NO_FIRM, facts: [] }).says.key).toBe(
      'minutes assumed',
    );
  });

  it('names properties whose label profile is not the firm’s', () => {
    expect(readSubjects([['p1', writeFacts().facts]], {}).withoutProfile).toEqual(['p1']);
  });
});

describe('bait used', () => {
  const facts = writeFacts();
  facts.install('2024-01-10', 's1');
  facts.see('2024-04-01', 's1', {
    termites: 'live on monitor',
    work: BAIT_IN,
    application: applicationOf(120),
  });
  facts.see('2024-05-15', 's1', {
    termites: 'live on bait',
    baitLeft: 'half',
    work: BAIT_IN,
    application: applicationOf(80),
  });
  facts.see('2024-07-15', 's1', {
    termites: 'live on bait',
    baitLeft: 'half',
    work: BAIT_IN,
    application: applicationOf(100),
  });

  it('adds grams of product and of active ingredient by quarter', () => {
    const uses = baitUsed([facts.subject()], [DEMO_PROFILE], quartersUntil(getDay('2024-09-30'), 3));
    expect(
      uses.map(({ period, grams, activeGrams, applications }) => [period, grams, activeGrams, applications]),
    ).toEqual([
      ['2024 Q2', 200, 1, 2],
      ['2024 Q3', 100, 0.5, 1],
    ]);
    const elsewhere = uses.map((one) => ({ ...one, property: 'p2' }));
    const totals = baitTotals([...uses, ...elsewhere]);
    expect(totals.map(({ period, grams, applications }) => [period, grams, applications])).toEqual([
      ['2024 Q2', 400, 4],
      ['2024 Q3', 200, 2],
    ]);
    expect(sumUses(totals)).toEqual({ applications: 6, grams: 600, activeGrams: 3 });
    const unknown = totals.map((one, at) => (at === 0 ? { ...one, activeGrams: null } : one));
    expect(sumUses(unknown).activeGrams).toBeNull();
    expect(
      baitUsed([facts.subject()], [], quartersUntil(getDay('2024-09-30'), 1))[0]?.activeGrams,
    ).toBeNull();
  });

  it('follows a correction: the amount put right, the bait that never went in, and what was seen', () => {
    const periods = quartersUntil(getDay('2024-09-30'), 3);
    const wrong = writeFacts();
    wrong.install('2024-01-10', 's1');
    wrong.see('2024-04-01', 's1', {});
    wrong.see('2024-05-15', 's1', {
      termites: 'live on bait',
      baitLeft: 'half',
      work: BAIT_IN,
      application: applicationOf(800),
    });
    wrong.see('2024-07-15', 's1', {
      termites: 'live on bait',
      baitLeft: 'half',
      work: BAIT_IN,
      application: applicationOf(100),
    });
    wrong.see('2024-08-15', 's1', {
      termites: 'live on bait',
      baitLeft: 'half',
      work: BAIT_IN,
      application: applicationOf(100),
    });
    const looks = wrong.facts.filter(({ kind }) => kind === 'station seen');
    const rights = facts.facts.filter(({ kind }) => kind === 'station seen');
    looks.forEach(({ id, body }, index) => {
      const right = rights[index]?.body ?? null;
      if (JSON.stringify(right) !== JSON.stringify(body))
        wrong.put('2024-09-02', 'fact corrected', { corrects: id, why: 'slip', body: right, at: null });
    });
    expect(wrong.facts.filter(({ kind }) => kind === 'fact corrected')).toHaveLength(3);
    expect(baitUsed([wrong.subject()], [DEMO_PROFILE], periods)).toEqual(
      baitUsed([facts.subject()], [DEMO_PROFILE], periods),
    );
    const figuresOf = (one: typeof facts) =>
      bookFigures({
        subjects: [one.subject()],
        withoutProfile: [],
        minutes: estimateServiceMinutes([]),
        asOf: getDay('2024-09-30'),
      });
    const { hits } = figuresOf(wrong);
    expect(hits?.open.count).toBeGreaterThan(0);
    expect(figuresOf(wrong)).toEqual(figuresOf(facts));
  });

  it('is held against stock: counted, received, moved, used, and what nobody accounts for', () => {
    const parts = {
      'bait-insert': { part: 'bait-insert', name: 'bait insert', packSize: 10, leadDays: 14, baitGrams: 120 },
      'top-monitor': {
        part: 'top-monitor',
        name: 'top monitor',
        packSize: 10,
        leadDays: 14,
        baitGrams: null,
      },
    };
    const firm = writeFacts('firm');
    const stock = (day: string, kind: string, place: string, count: number, part = 'bait-insert') =>
      firm.put(day, kind, { place, part, count, lot: null, usableUntil: null }, null);
    stock('2024-03-01', 'stock counted', 'person-a', 20);
    firm.put(
      '2024-03-20',
      'stock moved',
      { from: 'b1', to: 'person-a', part: 'bait-insert', count: 5, lot: null },
      null,
    );
    stock('2024-06-30', 'stock counted', 'person-a', 22);
    stock('2024-03-01', 'stock counted', 'b1', 100);
    stock('2024-03-01', 'stock counted', 'person-a', 9, 'top-monitor');
    const found = reconcileBait(firm.facts, [facts.subject()], parts);
    expect(found.reconciled).toEqual([
      {
        place: 'person-a',
        part: 'bait-insert',
        from: getDay('2024-03-01'),
        to: getDay('2024-06-30'),
        countedFirst: 20,
        received: 0,
        moved: 5,
        recorded: 2,
        countedLast: 22,
        unaccounted: 1,
        unaccountedGrams: 120,
      },
    ]);
    expect(found.notCounted).toEqual([{ place: 'b1', part: 'bait-insert', counts: 1 }]);
  });
});

describe('soil and season', () => {
  const season = {
    year: { meanCelsius: 16, amplitudeCelsius: 10, warmestDayOfYear: 205, diffusivity: 5e-7 },
    depthMetres: 0.3,
    forageFromCelsius: 18,
  };
  it('is warm late in summer, cold late in winter, and prefers without forbidding', () => {
    const months = soilMonths(season);
    expect(months.filter(({ forages }) => forages).map(({ month }) => month)).toEqual([5, 6, 7, 8, 9, 10]);
    expect(soilPreference(season, getDay('2026-08-10'))).toBe(1);
    const winter = soilPreference(season, getDay('2026-02-05'));
    expect(winter).toBeLessThan(0.2);
    expect(winter).toBeGreaterThanOrEqual(0);
  });
});

describe('the soil of a branch', () => {
  const numbers = {
    meanCelsius: 16,
    amplitudeCelsius: 10,
    coldestOn: '01-23',
    depthMetres: 0,
    diffusivityMm2PerSecond: 0.5,
    forageFromCelsius: 16,
    source: 'invented for a test',
  };

  it('is at its mean a quarter of a year after its coldest day, at the surface; deeper it follows later', () => {
    // Arithmetic: 23 January + 365.25 / 4 days = 24 April; half a year above the mean.
    const surface = soilCourse(toSoilSeason(numbers));
    expect(surface.season).toEqual({ from: '04-25', to: '10-23' });
    expect(surface.warmDays).toBe(182);
    expect(Math.min(...surface.celsius)).toBeCloseTo(6, 2);
    expect(surface.celsius.indexOf(Math.min(...surface.celsius))).toBe(22);
    // One damping depth down it lags by 1 radian of the year, 58 days (textbooks of soil physics, from memory).
    const damped = Math.sqrt((0.5e-6 * 365.25 * 86_400) / Math.PI);
    const deep = soilCourse(toSoilSeason({ ...numbers, depthMetres: damped }));
    expect(deep.celsius.indexOf(Math.min(...deep.celsius))).toBe(22 + 58);
    expect(Math.min(...deep.celsius)).toBeCloseTo(16 - 10 / Math.E, 2);
  });

  it('has a season over the turn of the year in the south, none where it is too cold, all year where it is warm', () => {
    const south = soilCourse(toSoilSeason({ ...numbers, coldestOn: '07-23' }));
    expect(south.season?.from.startsWith('10-')).toBe(true);
    expect(south.season?.to.startsWith('04-')).toBe(true);
    const always = soilCourse(toSoilSeason({ ...numbers, forageFromCelsius: 5 }));
    expect(always).toMatchObject({ season: null, warmDays: 365, says: { key: 'soil always warm' } });
    const never = soilCourse(toSoilSeason({ ...numbers, forageFromCelsius: 27 }));
    expect(never).toMatchObject({ season: null, warmDays: 0, says: { key: 'soil never warm' } });
  });

  it('is liked by the planner only where it was entered', () => {
    const firm = { ...NO_FIRM, soilSeasons: { b1: numbers } };
    expect(soilPreferenceOf(firm, 'b2')).toBeUndefined();
    const liking = soilPreferenceOf(firm, 'b1');
    expect(liking?.(getDay('2027-07-20'))).toBe(1);
    expect(liking?.(getDay('2027-01-23'))).toBeCloseTo(0, 2);
  });
});

describe('sentences', () => {
  it('take every value, and say where one is missing', () => {
    expect(
      sentenceText(
        sentence('rate', { events: 3, exposure: 120.456, rate: 2.4904, lower: 0.5136, upper: 7.27812 }),
      ),
    ).toBe('3 in 120 station-quarters: 2.49 in a hundred (95 %: 0.514 to 7.28).');
    expect(
      sentenceText(
        sentence('half by', { subjects: 9, unit: 'stations', median: 90, lower: 60, upper: null }),
      ),
    ).toContain('not yet known');
    for (const text of Object.values(SENTENCES)) expect(text).toMatch(/\.$/);
  });
});
