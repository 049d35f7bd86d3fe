import { addDays, dayToText, findDay, type RoundVisit, type VisitChain } from '@sillwatch/trade';
import type { LateWorkItem } from './branchPlan.ts';
import type { PlanProblem } from './buildPlanProblem.ts';
import { createWindowBooks, isYearly } from './spans.ts';

/** What a round does on its day, as far as windows go. */
export interface DrivenDay {
  readonly day: string;
  readonly visits: readonly Pick<RoundVisit, 'property' | 'works'>[];
}

/** Lives every station through the rounds and notes each window that closes before it is served, or within the horizon unserved. */
export function findLateWorks(
  built: Pick<PlanProblem, 'owed' | 'from' | 'to'>,
  rounds: readonly DrivenDay[],
): readonly LateWorkItem[] {
  const { owed, from, to } = built;
  const books = createWindowBooks();
  const services = servicesByStation(rounds);
  const late: LateWorkItem[] = [];
  for (const [property, stations] of owed)
    for (const { station, look, yearly } of stations) {
      let ahead = look;
      let service = yearly;
      const note = (chain: VisitChain | null, plannedOn: string | null): void => {
        const by = plannedOn === null ? addDays(to, 1) : findDay(plannedOn);
        if (chain === null || by === undefined || chain.window.latest >= by) return;
        const { latest } = chain.window;
        late.push({
          property,
          station,
          work: chain.work,
          latest: dayToText(latest),
          plannedOn,
          wasLate: latest < from,
        });
      };
      const follow = (chain: VisitChain | null, dayText: string): VisitChain | null => {
        const day = findDay(dayText);
        if (chain === null || chain.next === null || day === undefined) return null;
        return { work: chain.next.work, window: books(chain.next.rule)(day), next: chain.next };
      };
      for (const { day, yearly: isService } of services.get(`${property}\u0000${station}`) ?? []) {
        note(ahead, day);
        ahead = follow(ahead, day);
        if (!isService) continue;
        note(service, day);
        service = follow(service, day);
      }
      note(ahead, null);
      note(service, null);
    }
  return late;
}

interface Service {
  readonly day: string;
  readonly yearly: boolean;
}

function servicesByStation(rounds: readonly DrivenDay[]): ReadonlyMap<string, readonly Service[]> {
  const found = new Map<string, Service[]>();
  for (const { day, visits } of rounds)
    for (const { property, works } of visits)
      for (const { station, work } of works) {
        const key = `${property}\u0000${station}`;
        const service = { day, yearly: isYearly(work) };
        const known = found.get(key);
        if (known === undefined) found.set(key, [service]);
        else known.push(service);
      }
  for (const list of found.values()) list.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  return found;
}
