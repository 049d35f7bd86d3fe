import { findDay, getDay } from '@sillwatch/trade';
import { expect, it } from 'vitest';
import {
  applyMove,
  assignmentToRounds,
  type BranchPlan,
  type LateWorkItem,
  type RoundsOptions,
  readRounds,
  tryMove,
} from '../../src/index.ts';
import { inventBranch } from './support/inventBranch.ts';
import { planBranch } from './support/planBranch.ts';

const input = inventBranch(80, 3, 42, getDay('2026-11-25'));
const { built, rounds: plan } = planBranch(input, 1500);

function newlyLate({ late }: BranchPlan): readonly LateWorkItem[] {
  return late.filter(({ wasLate }) => !wasLate);
}

it('a visit dragged past its window is late with the day that had room, and going back there mends it', () => {
  expect(newlyLate(plan)).toEqual([]);
  const options: RoundsOptions = { plan: 'lead', newVisitId: ({ job }) => `new-${job}` };
  let dragged = 0;
  for (const round of plan.rounds)
    for (const { visit } of round.visits) {
      const job = [...readRounds(built, plan.rounds).visitByJob].find(([, id]) => id === visit)?.[0] ?? -1;
      const latest = findDay(built.needs[job]?.latest ?? '');
      const later = plan.rounds.findLast(({ day }) => latest !== undefined && Number(findDay(day)) > latest);
      if (dragged >= 5 || later === undefined) continue;
      const outcome = tryMove(built, plan.rounds, visit, { day: later.day, person: later.person });
      if (!outcome.ok) continue;
      const moved = applyMove(plan.rounds, outcome.move);
      const after = assignmentToRounds(built, readRounds(built, moved).assignment, {
        ...options,
        newVisitId: ({ job: one }) => readRounds(built, moved).visitByJob.get(one) ?? '',
      });
      const item = newlyLate(after).find(({ plannedOn }) => plannedOn === later.day);
      if (item === undefined) continue;
      dragged += 1;
      expect(item.why).toBe('there is room that was not used');
      const [remedy] = item.remedies ?? [];
      if (remedy?.kind !== 'another day') throw new Error('a day with room was expected');
      const back = tryMove(built, after.rounds, visit, { day: remedy.day, person: remedy.person });
      if (!back.ok) throw new Error(back.why.code);
      expect(back.move.broken).toEqual([]);
      const mended = readRounds(built, applyMove(after.rounds, back.move)).assignment;
      expect(newlyLate(assignmentToRounds(built, mended, options))).toEqual([]);
    }
  expect(dragged).toBe(5);
});

it('where the days of its window are full it says so, with what would make room', () => {
  const busy = inventBranch(120, 3, 42, getDay('2026-11-25'));
  const technicians = Object.fromEntries(
    Object.values(busy.firm.technicians)
      .slice(0, 1)
      .map((body) => [
        body.person,
        {
          ...body,
          hours: body.hours.slice(0, 1).map((hours) => ({ ...hours, from: '08:00', to: '12:00' })),
          mostOvertimeMinutes: 0,
        },
      ]),
  );
  const { rounds } = planBranch({ ...busy, firm: { ...busy.firm, technicians } }, 1500);
  const full = newlyLate(rounds).filter(({ why }) => why === 'no room on the days of its window');
  expect(full.length).toBeGreaterThan(0);
  for (const { remedies } of full) {
    if (remedies == null) continue;
    const prices = remedies.map((one) => ('costMinutes' in one ? one.costMinutes : -1));
    expect(prices).toEqual([...prices].sort((a, b) => a - b));
    expect(remedies.map(({ kind }) => kind)).toContain('one technician more');
    expect(remedies.map(({ kind }) => kind)).not.toContain('another day');
  }
  for (const { why, plannedOn, wasLate } of rounds.late) {
    expect(why).toBeDefined();
    if (!wasLate) expect(why === 'in no round').toBe(plannedOn === null);
  }
});
