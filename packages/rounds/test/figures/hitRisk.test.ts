import { type AnyFact, addMonths, DEMO_PROFILE, foldProperty, getMoment } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import {
  calibrateHitRisk,
  fitHitRisk,
  historyOf,
  RISK_COLUMNS,
  subjectOf,
  updateHitRisk,
} from '../../src/index.ts';
import { demoBook, TODAY } from '../support/demoFirm.ts';
import { writeFacts } from '../support/makeFacts.ts';

const book = demoBook(7, 60);
const subjectsUntil = (keep: (fact: AnyFact, property: string) => boolean) =>
  [...book.factsByProperty].flatMap(([property, facts]) => {
    const own = facts.filter((fact) => keep(fact, property));
    return own.length === 0 ? [] : [subjectOf(historyOf(property, own), foldProperty(own), DEMO_PROFILE)];
  });
const all = subjectsUntil(() => true);
const risk = fitHitRisk(all, TODAY);
const quarterAgo = addMonths(TODAY, -3);
const isEarly = (fact: AnyFact): boolean => getMoment(fact.at).day <= quarterAgo;

describe('hit risk of the demo firm', () => {
  it('finds the season that its termites were drawn with: a third more in summer, a third fewer in winter', () => {
    const column = RISK_COLUMNS.indexOf('season, warm against cold half');
    const { fit } = risk;
    if (fit === null) throw new Error('no fit');
    const found = fit.coefficients[column] ?? 0;
    const error = Math.sqrt(fit.covariance[column * RISK_COLUMNS.length + column] ?? 0);
    expect(fit.converged).toBe(true);
    expect(Math.abs(found - 0.35)).toBeLessThan(3 * error);
    expect(found / error).toBeGreaterThan(2);
  });

  it('says chances that come true on the nine months after those that it learned from', () => {
    const found = calibrateHitRisk(all, addMonths(TODAY, -9));
    if (found === undefined) throw new Error('no calibration');
    expect(found.p).toBeGreaterThan(0.01);
    expect(found.happened / found.expected).toBeGreaterThan(0.7);
    expect(found.happened / found.expected).toBeLessThan(1.4);
  });

  it('says nothing of a station that is not in the book, and no new hit where one is open', () => {
    expect(risk.chanceOf('nowhere', 'nothing', TODAY)).toBeUndefined();
    let open = 0;
    for (const [property, { memories }] of risk.memory.properties)
      for (const { station, openHit } of memories.values()) {
        const found = risk.chanceOf(property, station, TODAY);
        if (openHit) open += 1;
        if (openHit) expect(found?.chance).toBe(0);
        else {
          expect(found?.chance).toBeGreaterThan(found?.lower ?? 1);
          expect(found?.chance).toBeLessThan(found?.upper ?? 0);
        }
      }
    expect(open).toBeGreaterThan(5);
  });

  it('takes new looks in day by day, close to what a refit says, and leaves other properties alone', () => {
    const early = fitHitRisk(subjectsUntil(isEarly), quarterAgo);
    const changed = all.filter(({ history }) =>
      ['property-001', 'property-002', 'property-003'].includes(history.property),
    );
    const updated = updateHitRisk(early, changed, TODAY);
    expect(updated.looks).toBeGreaterThan(early.looks);
    for (const { history, state } of changed)
      for (const { station } of state.stations) {
        const now = updated.chanceOf(history.property, station, TODAY);
        const refit = risk.chanceOf(history.property, station, TODAY);
        if (now === undefined || refit === undefined) throw new Error('a station was lost');
        expect(now.from).toBe('station');
        expect(Math.abs(now.chance - refit.chance)).toBeLessThan(0.02);
      }
    const other = all.find(({ history }) => history.property === 'property-010');
    const station = other?.state.stations[0]?.station ?? '';
    expect(updated.chanceOf('property-010', station, TODAY)).toEqual(
      early.chanceOf('property-010', station, TODAY),
    );
  });

  it('takes in a property of a new branch as the firm’s average, and its neighbours in the book are none the worse', () => {
    const early = fitHitRisk(subjectsUntil(isEarly), quarterAgo);
    const newcomers = writeFacts('newcomer', 'branch-new');
    newcomers.install('2026-09-01', 'n1');
    newcomers.see('2026-11-10', 'n1');
    const first = updateHitRisk(early, [newcomers.subject()], TODAY);
    expect(first.chanceOf('newcomer', 'n1', TODAY)?.from).toBe('firm');
    const [one] = all;
    if (one === undefined) throw new Error('no property');
    const second = updateHitRisk(first, [one], TODAY);
    expect(second.chanceOf('newcomer', 'n1', TODAY)).toEqual(first.chanceOf('newcomer', 'n1', TODAY));
    // In a branch that the fit knows, a new property leans on the branch, and on its own record once it is taken in.
    const known = writeFacts('next-door', one.branch);
    known.install('2026-09-01', 'd1');
    known.see('2026-11-10', 'd1');
    const third = updateHitRisk(second, [known.subject()], TODAY);
    expect(third.chanceOf('next-door', 'd1', TODAY)?.from).toBe('station');
    const whole = fitHitRisk([...all, known.subject(), newcomers.subject()], TODAY);
    const refit = whole.chanceOf('next-door', 'd1', TODAY)?.chance ?? 0;
    expect(Math.abs((third.chanceOf('next-door', 'd1', TODAY)?.chance ?? 0) - refit)).toBeLessThan(0.02);
  });

  it('keeps to the common rate while there is too little to say', () => {
    const young = fitHitRisk(all.slice(0, 2), addMonths(TODAY, -34));
    expect(young.fit).toBeNull();
    const [property, { memories }] = [...young.memory.properties][0] ?? ['', { memories: new Map() }];
    const station = [...memories.keys()][0] ?? '';
    expect(young.chanceOf(property, station, TODAY)).toMatchObject({ from: 'common rate', spread: null });
    const none = fitHitRisk([], TODAY);
    expect(none).toMatchObject({ looks: 0, hits: 0, fit: null, commonRate: null });
  });
});
