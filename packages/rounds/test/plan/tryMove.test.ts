import { evaluatePlan } from '@sillwatch/planner';
import { getDay } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyMove,
  assignmentToRounds,
  measureAssignment,
  readRounds,
  tryMove,
  unplacedKey,
} from '../../src/index.ts';
import { inventBranch } from './support/inventBranch.ts';
import { planBranch } from './support/planBranch.ts';

const branch = inventBranch(80, 3, 42, getDay('2026-11-25'));
const promise = { day: '2026-12-10', from: '09:00', to: '12:00', how: 'telephone' };
const input = {
  ...branch,
  properties: branch.properties.map((state, index) => (index === 5 ? { ...state, promise } : state)),
};
const { built, rounds: plan } = planBranch(input, 1000);
const { rounds } = plan;
const visits = rounds.flatMap((round) => round.visits.map((visit) => ({ round, visit })));
const people = built.people.map(({ body }) => body.person);
const days = [...new Set(rounds.map(({ day }) => day))];

describe('a visit that is dragged', () => {
  it('costs what the whole plan costs more, moves only two rounds, and is nothing until it is applied', () => {
    const before = JSON.stringify(rounds);
    const read = readRounds(built, rounds);
    const base = measureAssignment(built, read.assignment);
    const cost = evaluatePlan(built.problem, read.assignment).cost;
    fc.assert(
      fc.property(
        fc.constantFrom(...visits),
        fc.constantFrom(...people),
        fc.constantFrom(...days),
        (one, person, day) => {
          const outcome = tryMove(built, rounds, one.visit.visit, { day, person });
          if (!outcome.ok) {
            expect(outcome.why.code).toBe('cannot drive that day');
            return;
          }
          const { move } = outcome;
          const after = applyMove(rounds, move);
          const now = readRounds(built, after);
          expect(now.visitByJob.size).toBe(read.visitByJob.size);
          const totals = measureAssignment(built, now.assignment);
          expect(totals.visits).toBe(base.visits);
          expect(totals.driveMetres - base.driveMetres).toBe(move.driveMetres);
          expect(Math.abs(totals.driveMinutes - base.driveMinutes - move.driveMinutes)).toBeLessThanOrEqual(
            1,
          );
          const dearer = evaluatePlan(built.problem, now.assignment).cost - cost;
          expect(Math.abs(dearer / 60 - move.costMinutes)).toBeLessThanOrEqual(0.51);
          const stands = after.find((round) => round.visits.some(({ visit }) => visit === one.visit.visit));
          expect([stands?.person, stands?.day]).toEqual([person, day]);
          for (const { before: was } of move.moved)
            expect([`${one.round.person} ${one.round.day}`, `${person} ${day}`]).toContain(
              `${was?.person} ${was?.day}`,
            );
          if (move.due.standing === 'in its window') expect(move.due.days).toBe(0);
          else expect(move.due.days).toBeGreaterThan(0);
          if (move.due.standing === 'too early')
            expect(move.broken.map(({ rule }) => rule)).toContain('outside the due window');
        },
      ),
      { numRuns: 150, seed: 4 },
    );
    expect(JSON.stringify(rounds)).toBe(before);
  });

  it('is pulled into a round where it was in none, by the key of the unplanned work', () => {
    fc.assert(
      fc.property(fc.constantFrom(...visits), ({ round, visit }) => {
        const without = rounds.map((one) =>
          one === round ? { ...one, visits: one.visits.filter((other) => other !== visit) } : one,
        );
        const left = assignmentToRounds(built, readRounds(built, without).assignment, {
          plan: 'left',
          newVisitId: unplacedKey,
        });
        expect(left.unplanned).toHaveLength(1);
        const key = left.unplanned[0]?.key ?? '';
        const to = { day: round.day, person: round.person };
        const outcome = tryMove(built, without, key, to, undefined, () => 'pulled-in');
        if (!outcome.ok) throw new Error(outcome.why.code);
        expect([outcome.move.visit, outcome.move.property]).toEqual(['pulled-in', visit.property]);
        const after = applyMove(without, outcome.move);
        expect(measureAssignment(built, readRounds(built, after).assignment).visits).toBe(visits.length);
        const again = after.flatMap((one) => one.visits).find((one) => one.visit === 'pulled-in');
        expect(again?.works).toEqual(visit.works);
      }),
      { numRuns: 20, seed: 5 },
    );
  });

  it('says which promise it breaks', () => {
    const promised = built.needs.find(({ promise }) => promise !== null);
    const one = visits.find(
      ({ visit }) => visit.property === promised?.property && visit.works.length === promised?.works.length,
    );
    const other = days.find((day) => day !== one?.round.day) ?? '';
    const person = rounds.find(({ day }) => day === other)?.person ?? '';
    const outcome = tryMove(built, rounds, one?.visit.visit ?? '', { day: other, person });
    expect(outcome.ok && outcome.move.broken.map(({ rule }) => rule)).toContain('promised for another day');
  });

  it('is refused with a reason where it cannot stand', () => {
    const visit = visits[0]?.visit.visit ?? '';
    const person = people[0] ?? '';
    const day = days[0] ?? '';
    const whyOf = (id: string, to: Parameters<typeof tryMove>[3]): unknown => {
      const outcome = tryMove(built, rounds, id, to);
      return outcome.ok ? undefined : outcome.why;
    };
    expect(whyOf('none such', { day, person })).toEqual({ code: 'no such visit' });
    expect(whyOf(visit, { day, person: 'nobody' })).toEqual({ code: 'no such technician' });
    expect(whyOf(visit, { day: '2031-01-01', person })).toEqual({ code: 'day outside the plan' });
    expect(whyOf(visit, { day: 'soon', person })).toEqual({ code: 'day outside the plan' });
    expect(whyOf(visit, { day: '2026-11-29', person })).toEqual({
      code: 'cannot drive that day',
      reason: 'technician does not work that day',
    });
    expect(whyOf(visit, { day, person, position: 99 })).toEqual({ code: 'no such position' });
  });
});
