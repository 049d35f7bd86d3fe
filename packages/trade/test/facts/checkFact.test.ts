import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AnyFact, checkFact } from '../../src/index.ts';
import { APPLICATION, BAIT_IN_TOP, createBook, opened } from '../state/book.ts';

const seenWith = (application: unknown): unknown => {
  const fact = createBook().see(
    's1',
    '2024-04-10T09:00:00-04:00',
    opened({ termites: 'live on monitor' }),
    BAIT_IN_TOP,
  );
  return { ...fact, body: { ...Object(fact.body), application } };
};

describe('the pesticide use record (7 CFR 110.3(a): product and EPA number, amount, location, area, site, applicator and certification number; the date is the fact’s)', () => {
  it('is accepted when whole', () => {
    expect(checkFact(seenWith(APPLICATION))).toEqual([]);
  });

  it.each([
    ['productName', ''],
    ['epaRegistrationNumber', ''],
    ['epaRegistrationNumber', '12-34-56-78'],
    ['epaRegistrationNumber', 'EPA 123'],
    ['grams', 0],
    ['grams', Number.NaN],
    ['location', ' '],
    ['areaTreated', ''],
    ['site', ''],
    ['applicatorName', ''],
    ['certificationNumber', ''],
  ])('is refused by name when %s is %j', (field, value) => {
    const [problem, ...others] = checkFact(seenWith({ ...APPLICATION, [field]: value }));
    expect(others).toEqual([]);
    expect(problem).toMatchObject({ path: `body.application.${field}`, code: 'legal field missing' });
    expect(problem?.remedy).toMatch(/7 CFR 110\.3/);
  });

  it('is refused when bait went in without any record', () => {
    expect(checkFact(seenWith(null))).toMatchObject([
      { path: 'body.application', code: 'legal field missing' },
    ]);
  });
});

describe('the door', () => {
  const good = createBook().install('s1', '2024-01-10T09:00:00-05:00');

  it('takes a whole fact and any unknown kind', () => {
    expect(checkFact(good)).toEqual([]);
    expect(checkFact({ ...good, kind: 'from the future', body: 42 })).toEqual([]);
  });

  it('takes a fact whose clock is wrong by years', () => {
    expect(checkFact({ ...good, at: '1998-01-01T00:00:00Z' })).toEqual([]);
    expect(checkFact({ ...good, at: '2999-01-01T00:00:00Z' })).toEqual([]);
  });

  it.each<[string, Partial<Record<keyof AnyFact, unknown>>, string]>([
    ['no UUID', { id: 'x' }, 'id'],
    ['no offset', { at: '2024-01-10T09:00:00' }, 'at'],
    ['no clock', { clock: 'now' }, 'clock'],
    ['no firm', { firm: '' }, 'firm'],
    ['no station', { station: null }, 'station'],
    ['no property', { property: null }, 'property'],
    ['a half sequence', { seq: 1.5 }, 'seq'],
    ['no body', { body: null }, 'body'],
  ])('names the place of %s', (_, change, path) => {
    const problems = checkFact({ ...good, ...change });
    expect(problems.map((problem) => problem.path)).toContain(path);
    for (const problem of problems) expect(problem.remedy).not.toBe('');
  });

  it('refuses work claimed in a station that nobody opened', () => {
    const fact = createBook().see(
      's1',
      '2024-04-10T09:00:00-04:00',
      { reach: 'not found', why: 'mulch' },
      { yearlyServiceDone: true },
    );
    expect(checkFact(fact)).toMatchObject([{ path: 'body.work', code: 'malformed' }]);
  });

  it('never throws, whatever comes', () => {
    fc.assert(fc.property(fc.anything(), (value) => Array.isArray(checkFact(value))));
    fc.assert(fc.property(fc.anything(), (body) => Array.isArray(checkFact({ ...good, body }))));
    fc.assert(
      fc.property(fc.anything(), (body) => Array.isArray(checkFact({ ...good, kind: 'station seen', body }))),
    );
  });
});
