import { DEMO_FIRM, generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { groupByProperty } from '@sillwatch/rounds';
import { type AnyFact, addDays, dayToText, foldFirm, getDay } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { planProblemOf } from '../src/plans/planProblemOf.ts';
import { readPlanTask } from '../src/plans/readTask.ts';
import { createFigureDesk } from '../src/reckon/figureDesk.ts';

const today = getDay('2026-11-25');
const { facts } = generateDemo({ seed: 7, today, properties: 12 });
const firm = foldFirm(facts);
const risk = { name: 'risk', branch: null, asOf: today } as const;

describe('the figures of a large firm', () => {
  it('take in the looks that came, and fit their coefficients anew on another day', () => {
    const late = dayToText(addDays(today, -30));
    const [early, rest] = [true, false].map((isEarly) =>
      facts.filter(({ at }) => at.slice(0, 10) < late === isEarly),
    );
    const desk = createFigureDesk(0);
    const fill = (some: readonly AnyFact[]) => {
      for (const [property, own] of groupByProperty(some)) desk.keepProperty(property, own);
    };
    const ask = (asOf = today) => JSON.parse(desk.answer({ ...risk, asOf }, firm));
    fill(early ?? []);
    const before = ask();
    const touched = new Set((rest ?? []).map(({ property }) => property));
    fill(facts.filter(({ property }) => touched.has(property)));
    const updated = ask();
    const fresh = createFigureDesk(0);
    for (const [property, own] of groupByProperty(facts)) fresh.keepProperty(property, own);
    const whole = JSON.parse(fresh.answer(risk, firm));
    expect(updated.looks).toBeGreaterThan(before.looks);
    expect([updated.looks, updated.hits]).toEqual([whole.looks, whole.hits]);
    // Coefficients wait, so chances are near those of a new fit and not the same.
    const chances = (answer: typeof whole) =>
      new Map<string, number>(
        answer.stations.map((one: { station: string; chance: number }) => [one.station, one.chance]),
      );
    const [a, b] = [chances(updated), chances(whole)];
    expect([...a.keys()].sort()).toEqual([...b.keys()].sort());
    const gaps = [...a].map(([station, chance]) => Math.abs(chance - (b.get(station) ?? 1)));
    expect(Math.max(...gaps)).toBeGreaterThan(0);
    expect(gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length).toBeLessThan(0.01);
    // On the next day everything is fitted anew, as a desk does that has only just opened.
    const next = addDays(today, 1);
    expect(ask(next)).toEqual(JSON.parse(fresh.answer({ ...risk, asOf: next }, firm)));
  });
});

describe('a soil season', () => {
  it('reaches the planner of its branch, and moves nothing out of its window', async () => {
    const ledger = await openLedger({});
    await ledger.append(DEMO_FIRM.id, facts, '2026-11-25T12:00:00.000Z');
    const [branch = ''] = Object.keys((await ledger.getFirm(DEMO_FIRM.id)).branches);
    const cache = { find: () => undefined, findMany: () => [], keep: () => {}, close: () => {} };
    const daysOf = async () => {
      const wanted = { plan: 'plan', branch, from: addDays(today, 1), days: 42, today, draft: null };
      const travel = { source: undefined, cache: Object(cache) };
      const task = await readPlanTask(ledger, DEMO_FIRM.id, wanted, travel, AbortSignal.timeout(60_000));
      return planProblemOf(task).problem.jobs.map(({ days }) => days);
    };
    const plain = await daysOf();
    const season = {
      meanCelsius: 16,
      amplitudeCelsius: 10,
      coldestOn: '01-20',
      depthMetres: 0.3,
      diffusivityMm2PerSecond: 0.5,
      forageFromCelsius: 16,
      source: 'invented for a test',
    };
    const [like] = facts.filter(({ kind }) => kind === 'part set');
    const set = (seq: number, numbers: typeof season | null) =>
      ledger.append(
        DEMO_FIRM.id,
        [
          {
            ...Object(like),
            id: `01999999-0000-7000-8000-00000000020${seq}`,
            seq: 990_000 + seq,
            at: `2026-11-25T0${seq}:00:00Z`,
            kind: 'soil season set',
            body: { branch, season: numbers },
          },
        ],
        '2026-11-25T12:00:00.000Z',
      );
    await set(1, season);
    const liked = await daysOf();
    expect(liked.map((days) => days.map(({ day }) => day))).toEqual(
      plain.map((days) => days.map(({ day }) => day)),
    );
    expect(liked).not.toEqual(plain);
    liked.forEach((days, job) => {
      days.forEach(({ cost }, at) => {
        expect(Math.abs(cost - (plain[job]?.[at]?.cost ?? -99))).toBeLessThanOrEqual(10);
      });
    });
    await set(2, null);
    expect(await daysOf()).toEqual(plain);
    await ledger.close();
  });
});
