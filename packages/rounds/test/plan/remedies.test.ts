import { getDay, getMoment, type TechnicianBody } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import type { BranchPlan, PlanInput, Remedy, UnplannedReason } from '../../src/index.ts';
import { checkRounds } from './support/checkRounds.ts';
import { inventBranch } from './support/inventBranch.ts';
import { planBranch } from './support/planBranch.ts';

const branch = inventBranch(120, 1, 28, getDay('2026-11-25'));

/** One technician only, changed as wanted. */
function withOne(change: (body: TechnicianBody) => TechnicianBody, input: PlanInput = branch): PlanInput {
  const body = input.firm.technicians['person-0'];
  if (body === undefined) throw new Error('the invented branch has lost its technician');
  return { ...input, firm: { ...input.firm, technicians: { [body.person]: change(body) } } };
}

function pricesOf(remedies: readonly Remedy[] | null): readonly number[] {
  return (remedies ?? []).flatMap((remedy) => ('costMinutes' in remedy ? [remedy.costMinutes] : []));
}

function find(plan: BranchPlan, reason: UnplannedReason) {
  return plan.unplanned.filter((one) => one.reason === reason);
}

describe('what could not be planned', () => {
  it('for want of room gets overtime by the minute, and following the advice makes the room', () => {
    const short = withOne((body) => ({
      ...body,
      hours: body.hours.slice(0, 1).map((hours) => ({ ...hours, from: '08:00', to: '12:00' })),
      mostOvertimeMinutes: 0,
    }));
    const { rounds } = planBranch(short, 1000);
    expect(checkRounds(short, rounds)).toEqual([]);
    const left = find(rounds, 'no room');
    expect(left.length).toBeGreaterThan(0);
    for (const { remedies } of left.slice(0, 20)) {
      expect(pricesOf(remedies)).toEqual([...pricesOf(remedies)].sort((a, b) => a - b));
      expect(remedies?.map(({ kind }) => kind)).toContain('one technician more');
    }
    const advised = left.flatMap(({ remedies }) =>
      (remedies ?? []).flatMap((one) => (one.kind === 'overtime' ? [one.minutes] : [])),
    );
    expect(advised.length).toBeGreaterThan(0);
    const least = Math.min(...advised);
    const longer = withOne((body) => body, {
      ...short,
      firm: {
        ...short.firm,
        technicians: Object.fromEntries(
          Object.entries(short.firm.technicians).map(([id, body]) => [
            id,
            { ...body, mostOvertimeMinutes: least },
          ]),
        ),
      },
    });
    const { rounds: after } = planBranch(longer, 1000);
    expect(after.unplanned.length).toBeLessThan(rounds.unplanned.length);
  });

  it('offers a day more that the technician does not work now', () => {
    const short = withOne((body) => ({
      ...body,
      hours: body.hours.slice(0, 1).map((hours) => ({ ...hours, from: '08:00', to: '11:30' })),
      mostOvertimeMinutes: 0,
    }));
    const { rounds } = planBranch(short, 500);
    const offered = rounds.unplanned.flatMap(({ remedies }) =>
      (remedies ?? []).flatMap((one) => (one.kind === 'a day more' ? [one] : [])),
    );
    expect(offered.length).toBeGreaterThan(0);
    for (const { day, person } of offered) {
      expect(person).toBe('person-0');
      expect(getMoment(`${day}T12:00:00Z`).day % 7).not.toBe(
        getMoment(`${rounds.rounds[0]?.day ?? ''}T12:00:00Z`).day % 7,
      );
    }
  });

  it('for want of a skill names the skill, and who would be sent', () => {
    const target = planBranch(branch, 0).built.needs[0]?.property;
    const properties = branch.properties.map((state) =>
      state.property === target && state.body !== null
        ? { ...state, body: { ...state.body, skills: ['climbs roofs'] } }
        : state,
    );
    const input = { ...branch, properties };
    const { rounds } = planBranch(input, 500);
    const [left] = find(rounds, 'nobody has the skills');
    expect(left?.property).toBe(target);
    expect(left?.remedies?.find(({ kind }) => kind === 'a skill')).toMatchObject({
      skills: ['climbs roofs'],
    });
    expect(checkRounds(input, rounds)).toEqual([]);
  });

  it('for hours that nobody meets offers to give them up', () => {
    const target = planBranch(branch, 0).built.needs.find(({ promise }) => promise === null)?.property;
    const properties = branch.properties.map((state) =>
      state.property === target && state.body !== null
        ? {
            ...state,
            body: { ...state.body, visitHours: { weekdays: [1, 2, 3, 4, 5], from: '20:00', to: '21:00' } },
          }
        : state,
    );
    const { rounds } = planBranch({ ...branch, properties }, 500);
    const left = rounds.unplanned.find(({ property }) => property === target);
    expect(left?.reason).toBe('too far or too long for a day');
    expect(left?.remedies?.[0]?.kind).toBe('give up the hours');
  });

  it('has no day where nobody works at all, and loses nothing', () => {
    const input = { ...branch, firm: { ...branch.firm, technicians: {} } };
    const { rounds } = planBranch(input, 0);
    expect(rounds.rounds).toEqual([]);
    expect(find(rounds, 'no day left').length).toBe(rounds.unplanned.length);
    expect(rounds.unplanned.length).toBeGreaterThan(3);
    expect(checkRounds(input, rounds)).toEqual([]);
  });
});
