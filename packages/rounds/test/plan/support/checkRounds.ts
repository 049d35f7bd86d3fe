import { dayToText, dueWork, findDay, getMoment, type RoundBody, weekdayOf } from '@sillwatch/trade';
import type { BranchPlan, PlanInput } from '../../../src/index.ts';

/**
 * Everything a plan must keep, checked the slow way from the input alone: no part of the search or of the problem is asked.
 * Returns what is wrong, in words; empty = sound.
 */
export function checkRounds(input: PlanInput, plan: BranchPlan): readonly string[] {
  return [
    ...plan.rounds.flatMap((round) => checkRound(input, round)),
    ...checkApart(plan),
    ...checkNothingForgotten(input, plan),
    ...checkPromises(input, plan),
  ];
}

function checkRound(input: PlanInput, round: RoundBody): readonly string[] {
  const wrong: string[] = [];
  const name = `${round.person} on ${round.day}`;
  const technician = input.firm.technicians[round.person];
  const day = findDay(round.day);
  if (technician === undefined || day === undefined) return [`${name}: no such technician or day`];
  if (!technician.active || technician.branch !== input.branch) wrong.push(`${name}: not of the branch`);
  if (day < input.from || day >= input.from + input.days) wrong.push(`${name}: outside the horizon`);
  for (const { person, from, to } of input.firm.away)
    if (person === round.person && from <= round.day && round.day <= to) wrong.push(`${name}: away`);
  for (const { branch, from, to } of input.firm.closed)
    if (branch === input.branch && from <= round.day && round.day <= to) wrong.push(`${name}: closed`);
  const hours = technician.hours.find(({ weekday }) => weekday === weekdayOf(day));
  if (hours === undefined) return [...wrong, `${name}: does not work that weekday`];
  if (minutesIn(round.startsAt) < minutesOf(hours.from)) wrong.push(`${name}: leaves too early`);
  if (minutesIn(round.endsAt) > minutesOf(hours.to) + technician.mostOvertimeMinutes)
    wrong.push(`${name}: back at ${round.endsAt}, too late`);

  const stops = round.visits.map((visit) => {
    const body = input.properties.find(({ property }) => property === visit.property)?.body;
    return { visit, body, position: body?.position ?? technician.start };
  });
  const travel = input.travel([technician.start, ...stops.map(({ position }) => position), technician.end]);
  let free = minutesIn(round.startsAt);
  let gap = 0;
  stops.forEach(({ visit, body }, index) => {
    const from = minutesIn(visit.startsAt);
    const to = minutesIn(visit.endsAt);
    const arrives = free + travel.seconds(index, index + 1) / 60;
    if (from < arrives - 0.02)
      wrong.push(`${name}: at ${visit.property} at ${from}, cannot be before ${arrives}`);
    if (to <= from) wrong.push(`${name}: no time at ${visit.property}`);
    gap = Math.max(gap, from - arrives);
    const skills = body?.skills ?? [];
    for (const skill of skills)
      if (!technician.skills.includes(skill)) wrong.push(`${name}: lacks ${skill} for ${visit.property}`);
    const promise = input.properties.find(({ property }) => property === visit.property)?.promise;
    const isPromised = promise?.day === round.day;
    const { visitHours } = body ?? {};
    if (!isPromised && !visit.frozen && visitHours != null) {
      if (!visitHours.weekdays.includes(weekdayOf(day)))
        wrong.push(`${name}: ${visit.property} not on that weekday`);
      if (from < minutesOf(visitHours.from) || from > minutesOf(visitHours.to))
        wrong.push(`${name}: ${visit.property} outside its hours`);
    }
    free = to;
  });
  const back = free + travel.seconds(stops.length, stops.length + 1) / 60;
  const end = minutesIn(round.endsAt);
  if (end < back - 0.02) wrong.push(`${name}: cannot be back at ${round.endsAt}`);
  gap = Math.max(gap, end - back);
  const long = end - minutesOf(hours.from) > 6 * 60;
  if (long && technician.breakMinutes > 0 && round.breakMinutes < technician.breakMinutes)
    wrong.push(`${name}: no break`);
  const firstGap =
    (round.visits[0] === undefined ? 0 : minutesIn(round.visits[0].startsAt)) - minutesIn(round.startsAt);
  if (round.breakMinutes > 0 && Math.max(gap, firstGap) < round.breakMinutes - 0.02)
    wrong.push(`${name}: its break of ${round.breakMinutes} minutes has no room`);
  return wrong;
}

/** No visit twice, no property twice on one day. */
function checkApart({ rounds }: BranchPlan): readonly string[] {
  const seen = new Set<string>();
  return rounds.flatMap(({ day, visits }) =>
    visits.flatMap(({ visit, property }) => {
      const keys = [`visit ${visit}`, `${property} on ${day}`];
      const twice = keys.filter((key) => seen.has(key));
      for (const key of keys) seen.add(key);
      return twice.map((key) => `twice: ${key}`);
    }),
  );
}

/** Each item owed until the end of the horizon, and each request, is in a visit or on the list of what is not planned: never in both. */
function checkNothingForgotten(input: PlanInput, plan: BranchPlan): readonly string[] {
  const wrong: string[] = [];
  const to = input.from + input.days - 1;
  // Rounds of the days before that count as done.
  const today = dayToText(input.today ?? input.from);
  const done = input.rounds.filter(({ day }) => day >= today && day < dayToText(input.from));
  const visits = [...done, ...plan.rounds].flatMap((round) => round.visits);
  for (const state of input.properties) {
    if (state.body?.branch !== input.branch) continue;
    const here = visits.filter(({ property }) => property === state.property);
    const unplanned = plan.unplanned.filter(({ property }) => property === state.property);
    if (unplanned.some(({ reason }) => reason === 'no label profile')) continue;
    for (const ask of state.asks) {
      const times = [...here, ...unplanned].filter(({ asks }) => asks.includes(ask.ask)).length;
      const latest = findDay(ask.latest);
      const earliest = findDay(ask.earliest);
      if (times > 1) wrong.push(`${ask.ask}: ${times} times`);
      if (times === 0 && latest !== undefined && latest <= to) wrong.push(`${ask.ask}: forgotten`);
      if (earliest !== undefined && earliest > to && times > 0) wrong.push(`${ask.ask}: too early`);
    }
    const profile = input.firm.profiles[state.body.profile];
    if (profile === undefined) {
      wrong.push(`${state.property}: no profile, and nobody is told`);
      continue;
    }
    for (const { station, work, latest } of dueWork(state.stations, profile, input.from).items) {
      if (latest > to) continue;
      const isYearly = (kind: string): boolean =>
        kind === 'yearly service' || kind === 'carried-over service';
      const serves = (one: { readonly station: string; readonly work: string }): boolean =>
        one.station === station && (one.work === work || (!isYearly(work) && isYearly(one.work)));
      const planned = here.filter(({ works }) => works.some(serves)).length;
      const left = unplanned.filter(({ works }) => works.some(serves)).length;
      if (planned + left === 0) wrong.push(`${work} at ${station}: forgotten`);
    }
    for (const { works, visit } of here)
      if (new Set(works.map(({ station }) => station)).size !== works.length)
        wrong.push(`${visit}: a station twice`);
  }
  return wrong;
}

function checkPromises(input: PlanInput, plan: BranchPlan): readonly string[] {
  return input.properties.flatMap(({ property, promise, body }) => {
    const day = promise?.day == null ? undefined : findDay(promise.day);
    if (promise === null || day === undefined || body?.branch !== input.branch) return [];
    if (day < input.from || day >= input.from + input.days) return [];
    const isTold =
      plan.released.some((one) => one.property === property && one.what === 'promise') ||
      plan.unplanned.some((one) => one.property === property);
    if (isTold) return [];
    const visit = plan.rounds
      .filter((round) => round.day === promise.day)
      .flatMap((round) => round.visits)
      .find((one) => one.property === property);
    if (visit === undefined) return [`${property}: promised for ${promise.day} and not there`];
    const at = minutesIn(visit.startsAt);
    return at < minutesOf(promise.from) || at > minutesOf(promise.to)
      ? [`${property}: promised from ${promise.from} to ${promise.to}, there at ${visit.startsAt}`]
      : [];
  });
}

/** Local minutes after midnight as the text says. */
function minutesIn(moment: string): number {
  getMoment(moment);
  return minutesOf(moment.slice(11, 16)) + Number(moment.slice(17, 19)) / 60;
}
function minutesOf(text: string): number {
  return Number(text.slice(0, 2)) * 60 + Number(text.slice(3, 5));
}
