import { addDays, dayToText, findDay, type PropertyState, type RoundBody } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BranchPlan, comparePlans, type PlanInput, type PlanProblem } from '../../src/index.ts';
import { checkRounds } from './support/checkRounds.ts';
import { demoInput } from './support/demoInput.ts';
import { expectLateAsListed } from './support/expectLate.ts';
import { planBranch } from './support/planBranch.ts';

describe('a plan lived through', () => {
  it('is sound for any firm, horizon and shortage of technicians', { timeout: 120_000 }, () => {
    const days = fc.integer({ min: 7, max: 91 });
    const seeds = fc.integer({ min: 1, max: 10_000 });
    fc.assert(
      fc.property(
        seeds,
        days,
        fc.integer({ min: 0, max: 4 }),
        fc.boolean(),
        (seed, horizon, technicians, harbour) => {
          const demo = demoInput(seed, {
            days: horizon,
            properties: 24,
            branch: harbour ? 'branch-harbour' : 'branch-upland',
          });
          const firm = {
            ...demo.input.firm,
            technicians: Object.fromEntries(
              Object.entries(demo.input.firm.technicians).slice(0, technicians),
            ),
          };
          const input = { ...demo.input, firm };
          const { rounds } = planBranch(input, 200);
          expect(checkRounds(input, rounds)).toEqual([]);
          expectLateAsListed(demo, input, rounds);
        },
      ),
      { numRuns: 24, seed: 20_261_125 },
    );
  });

  it('is sound again after whatever happens to it: illness, rain, promises, requests, frozen rounds', {
    timeout: 120_000,
  }, () => {
    const demo = demoInput(7, { days: 42, properties: 100 });
    const published = planBranch(demo.input, 500).rounds.rounds;
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const offset = fc.integer({ min: 0, max: 41 });
    fc.assert(
      fc.property(
        fc.record({
          frozen: share,
          away: fc.array(fc.tuple(fc.integer({ min: 0, max: 3 }), offset, fc.integer({ min: 0, max: 10 })), {
            maxLength: 2,
          }),
          closed: fc.array(offset, { maxLength: 2 }),
          promised: fc.array(fc.tuple(fc.nat(), offset), { maxLength: 4 }),
          asked: fc.array(fc.tuple(fc.nat(), offset, fc.integer({ min: 0, max: 7 }), fc.boolean()), {
            maxLength: 4,
          }),
          later: fc.integer({ min: 0, max: 5 }),
        }),
        (news) => {
          const input = happen(demo.input, published, news);
          const { rounds, built } = planBranch(input, 150, 9, 'after');
          expect(checkRounds(input, rounds)).toEqual([]);
          expectLateAsListed(demo, input, rounds, published);
          expectFrozenKept(input, rounds);
          const told = new Set(rounds.unplanned.map(({ visit }) => visit));
          const { moves } = comparePlans(built, rounds.rounds);
          for (const { visit, after, property } of moves?.moved ?? [])
            if (after === null && !told.has(visit))
              expect(stillAt(rounds, property) || owesNothing(built, property)).toBe(true);
        },
      ),
      { numRuns: 25, seed: 3 },
    );
  });
});

interface News {
  readonly frozen: number;
  readonly away: readonly (readonly [number, number, number])[];
  readonly closed: readonly number[];
  readonly promised: readonly (readonly [number, number])[];
  readonly asked: readonly (readonly [number, number, number, boolean])[];
  readonly later: number;
}

function happen(input: PlanInput, published: readonly RoundBody[], news: News): PlanInput {
  const dayAt = (offset: number): string => dayToText(addDays(input.from, offset));
  const people = Object.keys(input.firm.technicians);
  const own = input.properties.filter(({ body }) => body?.branch === input.branch);
  const pick = (index: number) => own[index % own.length]?.property;
  const properties = input.properties.map((state): PropertyState => {
    const promised = news.promised.find(([index]) => pick(index) === state.property);
    const asks = news.asked.flatMap(([index, from, length, urgent], n) =>
      pick(index) === state.property
        ? [
            {
              ask: `ask-new-${n}`,
              earliest: dayAt(from),
              latest: dayAt(from + length),
              minutes: 30,
              why: 'new',
              urgent,
            },
          ]
        : [],
    );
    const promise =
      promised === undefined
        ? state.promise
        : { day: dayAt(promised[1]), from: '09:00', to: '12:00', how: 'telephone' };
    return { ...state, asks: [...state.asks, ...asks], promise };
  });
  const rounds = published.map((round, n) => ({
    ...round,
    visits: round.visits.map((visit) => ({ ...visit, frozen: (n * 7919) % 100 < news.frozen * 100 })),
  }));
  const away = news.away.map(([who, from, length]) => ({
    person: people[who] ?? '',
    from: dayAt(from),
    to: dayAt(from + length),
    why: 'ill',
  }));
  const closed = news.closed.map((offset) => ({
    branch: input.branch,
    from: dayAt(offset),
    to: dayAt(offset),
    why: 'rain',
  }));
  const firm = {
    ...input.firm,
    away: [...input.firm.away, ...away],
    closed: [...input.firm.closed, ...closed],
  };
  return {
    ...input,
    properties,
    rounds,
    firm,
    today: input.from,
    from: addDays(input.from, news.later),
    days: input.days - news.later,
  };
}

/** A frozen visit stands with its person on its day, unless it was released or is on the list of what is not planned. */
function expectFrozenKept(input: PlanInput, plan: BranchPlan): void {
  const free = new Set([...plan.released, ...plan.unplanned].map(({ visit }) => visit));
  const joined = new Set(
    plan.released.filter(({ what }) => what === 'promise').map(({ property }) => property),
  );
  for (const round of input.rounds) {
    const day = findDay(round.day);
    if (day === undefined || day < input.from || day >= input.from + input.days) continue;
    const now = plan.rounds.find((one) => one.person === round.person && one.day === round.day);
    for (const { visit, frozen, property } of round.visits)
      if (frozen && !free.has(visit) && !joined.has(property))
        expect(
          now?.visits.some((one) => one.visit === visit),
          `${visit} on ${round.day}`,
        ).toBe(true);
  }
}

function stillAt(plan: BranchPlan, property: string): boolean {
  return plan.rounds.some(({ visits }) => visits.some((visit) => visit.property === property));
}

function owesNothing(built: PlanProblem, property: string): boolean {
  return !built.needs.some((need) => need.property === property);
}
