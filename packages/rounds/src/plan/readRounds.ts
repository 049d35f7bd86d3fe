import type { Assignment } from '@sillwatch/planner';
import { type Day, findDay, type RoundBody, type RoundVisit } from '@sillwatch/trade';
import type { PlanProblem } from './buildPlanProblem.ts';
import { matchVisits } from './match.ts';
import type { VisitNeed } from './need.ts';

export interface ReadRounds {
  /** What a search starts from (`SolverOptions.initial`), and what is measured and dragged about. */
  readonly assignment: Assignment;
  /** The id of each visit by job, so that rounds made anew keep them. */
  readonly visitByJob: ReadonlyMap<number, string>;
  /** Visits of the rounds that nothing in the problem stands for: done, no longer owed, of a person or day not planned. */
  readonly unread: readonly { readonly visit: string; readonly property: string; readonly day: string }[];
}

/**
 * Rounds, published or drafted, as the planner's assignment: visits by their ids, others in the order of their days.
 * A person or a day that the problem does not have is left out.
 */
export function readRounds(
  built: Pick<PlanProblem, 'needs' | 'people' | 'from' | 'problem'>,
  rounds: readonly RoundBody[],
): ReadRounds {
  const sorted = [...rounds].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  const jobByVisit = findJobs(built, sorted);
  const vehicleOf = new Map(built.people.map(({ body }, vehicle) => [body.person, vehicle]));
  const visitByJob = new Map<number, string>();
  const unread: { visit: string; property: string; day: string }[] = [];
  const assignment = sorted.flatMap((round) => {
    const vehicle = vehicleOf.get(round.person);
    const day = findDay(round.day);
    const index = day === undefined ? -1 : day - built.from;
    const drives =
      vehicle !== undefined &&
      built.problem.vehicles[vehicle]?.shifts.some((shift) => shift.day === index) === true;
    const jobs: number[] = [];
    for (const { visit, property } of round.visits) {
      const job = jobByVisit.get(visit);
      if (job === undefined || !drives) unread.push({ visit, property, day: round.day });
      else jobs.push(job);
      if (job !== undefined) visitByJob.set(job, visit);
    }
    return vehicle === undefined || jobs.length === 0 ? [] : [{ vehicle, day: index, jobs }];
  });
  return { assignment, visitByJob, unread };
}

interface Candidate {
  readonly visit: RoundVisit;
  readonly day: Day;
}

function findJobs(
  { needs }: Pick<PlanProblem, 'needs'>,
  sorted: readonly RoundBody[],
): ReadonlyMap<string, number> {
  const jobByVisit = new Map<string, number>();
  for (const { job, published } of needs) if (published !== null) jobByVisit.set(published.visit, job);
  const taken = new Set<number>();
  const openByProperty = new Map<string, Candidate[]>();
  for (const round of sorted)
    for (const visit of round.visits) {
      const known = jobByVisit.get(visit.visit);
      const day = findDay(round.day);
      if (known !== undefined) taken.add(known);
      else if (day !== undefined) {
        const list = openByProperty.get(visit.property);
        if (list === undefined) openByProperty.set(visit.property, [{ visit, day }]);
        else list.push({ visit, day });
      }
    }
  if (openByProperty.size === 0) return jobByVisit;
  const needsByProperty = new Map<string, VisitNeed[]>();
  for (const need of needs) {
    if (taken.has(need.job) || !openByProperty.has(need.property)) continue;
    const list = needsByProperty.get(need.property);
    if (list === undefined) needsByProperty.set(need.property, [need]);
    else list.push(need);
  }
  for (const [property, own] of needsByProperty) {
    const candidates = openByProperty.get(property) ?? [];
    const spans = own.flatMap(({ earliest, target, latest }) => {
      const [first, nominal, last] = [findDay(earliest), findDay(target), findDay(latest)];
      return first === undefined || nominal === undefined || last === undefined
        ? []
        : [{ earliest: first, nominal, latest: last }];
    });
    matchVisits(
      candidates.map(({ day }) => day),
      spans,
    ).forEach((index, position) => {
      const candidate = candidates[index];
      const need = own[position];
      if (candidate !== undefined && need !== undefined) jobByVisit.set(candidate.visit.visit, need.job);
    });
  }
  return jobByVisit;
}
