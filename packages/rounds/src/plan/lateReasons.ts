import type { Assignment } from '@sillwatch/planner';
import { addDays, dayToText, findDay } from '@sillwatch/trade';
import type { LateWorkItem, Remedy } from './branchPlan.ts';
import type { PlanProblem } from './buildPlanProblem.ts';
import { findRemedies, tryEverywhere } from './remedies.ts';

type Explained = Required<Pick<LateWorkItem, 'why' | 'remedies'>>;

/** Says of each late work why, and what would have it in time; remedies are sought for `most` visits, each takes some tenths of a second. */
export function explainLate(
  built: PlanProblem,
  assignment: Assignment,
  late: readonly LateWorkItem[],
  most: number,
): readonly LateWorkItem[] {
  if (late.length === 0) return late;
  const jobAt = new Map<string, number>();
  for (const { day, jobs } of assignment)
    for (const job of jobs)
      jobAt.set(`${built.needs[job]?.property ?? ''} ${dayToText(addDays(built.from, day))}`, job);
  const known = new Map<string, Explained>();
  let sought = 0;
  return late.map((item) => ({ ...item, ...explain(item) }));

  function explain({ property, latest, plannedOn, wasLate }: LateWorkItem): Explained {
    if (wasLate) return { why: 'late before the plan begins', remedies: [] };
    if (plannedOn === null) return { why: 'in no round', remedies: null };
    const job = jobAt.get(`${property} ${plannedOn}`);
    const close = findDay(latest);
    if (job === undefined || close === undefined) return { why: 'in no round', remedies: null };
    const key = `${job} ${latest}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const found = explainVisit(job, close - built.from);
    known.set(key, found);
    return found;
  }

  function explainVisit(job: number, lastDay: number): Explained {
    const own = built.problem.jobs[job];
    const days = own?.days.filter(({ day }) => day <= lastDay) ?? [];
    if (own === undefined || days.length === 0)
      return { why: 'no day of its window can be used', remedies: [] };
    if (sought >= most) return { why: 'no room on the days of its window', remedies: null };
    sought += 1;
    const inTime: PlanProblem = {
      ...built,
      problem: { ...built.problem, jobs: built.problem.jobs.with(job, { ...own, days }) },
    };
    const without = assignment.map((route) => ({
      ...route,
      jobs: route.jobs.filter((other) => other !== job),
    }));
    const free = tryEverywhere(inTime.problem, without, job);
    if (free === undefined) {
      const remedies = findRemedies(inTime, without, job).filter(({ kind }) => kind !== 'another day');
      return { why: 'no room on the days of its window', remedies };
    }
    const remedy: Remedy = {
      kind: 'another day',
      person: built.people[free.vehicle]?.body.person ?? '',
      day: dayToText(addDays(built.from, free.day)),
      daysOutside: 0,
      costMinutes: Math.round(free.cost / 60),
    };
    return { why: 'there is room that was not used', remedies: [remedy] };
  }
}
