import { type AskBody, addDays, dayToText, type RoundBody } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { comparePlans, listMoves, type PlanInput, readRounds } from '../../src/index.ts';
import { checkRounds } from './support/checkRounds.ts';
import { demoInput } from './support/demoInput.ts';
import { expectLateAsListed } from './support/expectLate.ts';
import { planBranch } from './support/planBranch.ts';

const demo = demoInput(7, { days: 56, properties: 100 });
const published = planBranch(demo.input, 2000).rounds.rounds;
const sent: PlanInput = { ...demo.input, rounds: published };

function visitsOf(rounds: readonly RoundBody[], person: string, day: string): readonly string[] {
  return rounds
    .filter((round) => round.person === person && round.day === day)
    .flatMap((round) => round.visits.map(({ visit }) => visit));
}

function freeze(rounds: readonly RoundBody[], until: string): readonly RoundBody[] {
  return rounds.map((round) =>
    round.day > until ? round : { ...round, visits: round.visits.map((one) => ({ ...one, frozen: true })) },
  );
}

describe('a plan made again', () => {
  it('reads its own rounds back whole', () => {
    const { built } = planBranch(sent, 0);
    const { assignment, unread, visitByJob } = readRounds(built, published);
    expect(unread).toEqual([]);
    expect(visitByJob.size).toBe(built.needs.length);
    expect(assignment.length).toBe(published.length);
  });

  it('leaves all where it is when nothing has changed', () => {
    const { rounds, built } = planBranch(sent, 1000, 2, 'again');
    const { moves } = comparePlans(built, rounds.rounds);
    expect(moves?.counts).toMatchObject({ day: 0, technician: 0, gone: 0, new: 0 });
    expect(checkRounds(sent, rounds)).toEqual([]);
  });

  it('gives a sick technician’s visits to others or other days, and moves few of the rest', () => {
    const first = published[0];
    const person = first?.person ?? '';
    const from = first?.day ?? '';
    const away = { person, from, to: dayToText(addDays(sent.from, 9)), why: 'sick' };
    const input = { ...sent, firm: { ...sent.firm, away: [...sent.firm.away, away] } };
    const { rounds, built } = planBranch(input, 2000, 3, 'sick');
    expect(checkRounds(input, rounds)).toEqual([]);
    expectLateAsListed(demo, input, rounds);
    expect(rounds.unplanned).toEqual([]);
    const lost = published
      .filter((round) => round.person === person && round.day >= away.from && round.day <= away.to)
      .flatMap((round) => round.visits);
    const { moves } = comparePlans(built, rounds.rounds);
    const moved = moves?.moved.filter(({ kinds }) =>
      kinds.some((kind) => kind === 'day' || kind === 'technician'),
    );
    const movedIds = new Set(moved?.map(({ visit }) => visit));
    expect(lost.length).toBeGreaterThan(2);
    for (const { visit } of lost) expect(movedIds).toContain(visit);
    expect(moved?.length).toBeLessThanOrEqual(lost.length + 2);
    expect(moves?.counts).toMatchObject({ gone: 0, new: 0 });
  });

  it('clears a day of rain and keeps frozen rounds of other days to the minute they may slip', () => {
    const rainy = published[0]?.day ?? '';
    const frozenUntil = dayToText(addDays(sent.from, 20));
    const rounds = freeze(published, frozenUntil);
    const closed = { branch: sent.branch, from: rainy, to: rainy, why: 'rain' };
    const input = { ...sent, rounds, firm: { ...sent.firm, closed: [...sent.firm.closed, closed] } };
    const { rounds: plan } = planBranch(input, 1000, 4, 'rain');
    expect(checkRounds(input, plan)).toEqual([]);
    expect(plan.rounds.filter(({ day }) => day === rainy)).toEqual([]);
    const washedOut = rounds.filter(({ day }) => day === rainy).flatMap(({ visits }) => visits);
    const released = plan.released.filter(({ what }) => what === 'frozen visit');
    expect(new Set(released.map(({ visit }) => visit))).toEqual(new Set(washedOut.map(({ visit }) => visit)));
    expect(new Set(released.map(({ why }) => why))).toEqual(new Set(['branch closed']));
    for (const round of rounds.filter(({ day }) => day !== rainy && day <= frozenUntil)) {
      const now = visitsOf(plan.rounds, round.person, round.day);
      for (const { visit } of round.visits) expect(now).toContain(visit);
    }
    const { moved } = listMoves(rounds, plan.rounds);
    for (const { visit, kinds, before, after } of moved.filter(({ wasFrozen }) => wasFrozen)) {
      if (washedOut.some((one) => one.visit === visit)) continue;
      expect(kinds).toEqual(['time']);
      const minutes = Math.abs(minuteOf(before?.startsAt ?? '') - minuteOf(after?.startsAt ?? ''));
      expect(minutes).toBeLessThanOrEqual(30);
    }
  });

  it('takes in an urgent request at once and lists what it moved', () => {
    const property = published.find(({ day }) => day > dayToText(addDays(sent.from, 14)))?.visits[0]
      ?.property;
    const ask: AskBody = {
      ask: 'ask-swarm',
      earliest: dayToText(sent.from),
      latest: dayToText(addDays(sent.from, 3)),
      minutes: 45,
      why: 'swarm in the kitchen',
      urgent: true,
    };
    const properties = sent.properties.map((state) =>
      state.property === property ? { ...state, asks: [...state.asks, ask] } : state,
    );
    const input = { ...sent, properties };
    const { rounds, built } = planBranch(input, 1000, 5, 'urgent');
    expect(checkRounds(input, rounds)).toEqual([]);
    const round = rounds.rounds.find(({ visits }) => visits.some(({ asks }) => asks.includes(ask.ask)));
    expect(round?.day).toBeDefined();
    expect((round?.day ?? '') <= ask.latest).toBe(true);
    const { moves } = comparePlans(built, rounds.rounds);
    expect(moves?.counts.new).toBe(1);
    expect(moves?.counts.gone).toBe(0);
    expect(moves?.counts.day).toBeLessThanOrEqual(2);
  });

  it('holds what the lead has put by hand, person and day, and says so in the round', () => {
    const wanted = published.flatMap((round) => round.visits.map(({ visit }) => ({ visit, round })));
    const moved = wanted.slice(3, 6).map(({ visit }) => visit);
    const last = wanted[wanted.length - 1]?.round;
    // As if the lead had put three visits on the last round of all.
    const byHand = published.map((round) => ({
      ...round,
      visits: round.visits.filter(({ visit }) => !moved.includes(visit)),
    }));
    const rounds = byHand.map((round) =>
      round.person !== last?.person || round.day !== last.day
        ? round
        : {
            ...round,
            visits: [
              ...round.visits,
              ...published.flatMap((one) => one.visits.filter(({ visit }) => moved.includes(visit))),
            ].map((visit) =>
              moved.includes(visit.visit) ? { ...visit, startsAt: `${round.day}T10:00:00-05:00` } : visit,
            ),
          },
    );
    const input = { ...sent, rounds, hold: moved };
    const { rounds: plan } = planBranch(input, 500, 7, 'held');
    const unplanned = new Set(plan.unplanned.map(({ visit }) => visit));
    const stands = plan.rounds.find((round) => round.person === last?.person && round.day === last.day);
    for (const id of moved) {
      const visit = stands?.visits.find((one) => one.visit === id);
      expect(visit !== undefined || unplanned.has(id)).toBe(true);
      if (visit !== undefined) expect(visit.frozen).toBe(true);
    }
    expect(moved.some((id) => !unplanned.has(id))).toBe(true);
    expect(checkRounds(input, plan)).toEqual([]);
  });

  it('counts the rounds of today as done when it begins tomorrow', () => {
    const today = published[0]?.day ?? '';
    const from = addDays(sent.from, 1);
    const waiting = new Set(
      published.filter(({ day }) => day === today).flatMap((round) => round.visits.map(({ visit }) => visit)),
    );
    expect(today).toBe(dayToText(sent.from));
    const { rounds } = planBranch({ ...sent, from, today: sent.from, days: 55 }, 200, 6, 'tomorrow');
    const late = new Set(rounds.late.map(({ station }) => station));
    for (const { visits } of published.filter(({ day }) => day === today))
      for (const { works } of visits) for (const { station } of works) expect(late).not.toContain(station);
    const ids = rounds.rounds.flatMap((round) => round.visits.map(({ visit }) => visit));
    for (const visit of waiting) expect(ids).not.toContain(visit);
  });
});

function minuteOf(moment: string): number {
  return Number(moment.slice(11, 13)) * 60 + Number(moment.slice(14, 16)) + Number(moment.slice(17, 19)) / 60;
}
