import { type Ledger, listEveryFact } from '@sillwatch/ledger';
import { greatCircleTable, listPlanPlaces, type PlanInput, tableTravel } from '@sillwatch/rounds';
import {
  type AnyFact,
  CORRECTION,
  type Day,
  type FirmState,
  foldRounds,
  type PropertyState,
  ROUND_KINDS,
  type RoundBody,
} from '@sillwatch/trade';
import type { TravelCache } from '../travel/cache.ts';
import { prepareTravel } from '../travel/prepareTravel.ts';
import type { RoadSource } from '../travel/roadSource.ts';
import { eachProperty } from '../work/firm.ts';
import { zoneClock } from './planProblemOf.ts';
import type { PlanTask } from './planTask.ts';

/** Where travel between the places of a plan comes from. */
export interface TravelDesk {
  readonly source: RoadSource | undefined;
  readonly cache: TravelCache;
}

export interface TaskWanted {
  readonly plan: string;
  readonly branch: string;
  readonly from: Day;
  readonly days: number;
  readonly today: Day;
  readonly draft: readonly RoundBody[] | null;
}

/** Properties whose records teach the minutes of service, spread evenly over the branch. */
const MOST_TEACHERS = 150;
const FACTS_A_PAGE = 10_000;

/** Reads from the ledger all that a plan needs, and asks the road source about new places. */
export async function readPlanTask(
  ledger: Ledger,
  firm: string,
  wanted: TaskWanted,
  travel: TravelDesk,
  signal: AbortSignal,
  onTravel?: (done: number, total: number) => void,
): Promise<PlanTask> {
  const firmState = await ledger.getFirm(firm);
  const properties: PropertyState[] = [];
  for await (const state of eachProperty(ledger, firm, wanted.branch)) {
    signal.throwIfAborted();
    properties.push(withoutHistory(state));
  }
  const published = await listPublished(ledger, firm);
  const places = listPlanPlaces(placesInput(wanted, properties, firmState));
  const technicians = Object.values(firmState.technicians).filter(({ branch }) => branch === wanted.branch);
  const ends = technicians.flatMap(({ start, end }) => [start, end]);
  const hubs = places.flatMap((place, p) =>
    ends.some(({ latitude, longitude }) => latitude === place.latitude && longitude === place.longitude)
      ? [p]
      : [],
  );
  return {
    ...wanted,
    properties,
    firm: firmState,
    published,
    lastPerson: Object.fromEntries(
      properties.flatMap(({ property, visits }) => {
        const by = visits.at(-1)?.by;
        return by === undefined ? [] : [[property, by]];
      }),
    ),
    travel: await prepareTravel(travel.source, travel.cache, {
      places,
      hubs,
      signal,
      ...(onTravel === undefined ? {} : { onProgress: onTravel }),
    }),
    records: await listRecords(ledger, firm, properties),
  };
}

/** A plan needs to know who came last, not what was told and sent since. */
function withoutHistory(state: PropertyState): PropertyState {
  return { ...state, visits: state.visits.slice(-1), site: null, papersSent: [], links: [], passedOver: [] };
}

function placesInput(
  { branch, from, days }: TaskWanted,
  properties: readonly PropertyState[],
  firm: FirmState,
): PlanInput {
  return {
    properties,
    firm,
    branch,
    from,
    days,
    rounds: [],
    travel: tableTravel(greatCircleTable([])),
    clock: zoneClock,
  };
}

/** Rounds as last sent out, of all branches. */
export async function listPublished(ledger: Ledger, firm: string): Promise<readonly RoundBody[]> {
  return foldRounds(await listRoundFacts(ledger, firm));
}

/** Every round ever sent out, with the corrections that may be about one. */
export function listRoundFacts(ledger: Ledger, firm: string): Promise<readonly AnyFact[]> {
  return listEveryFact(ledger, firm, { kinds: [...ROUND_KINDS, CORRECTION] });
}

async function listRecords(
  ledger: Ledger,
  firm: string,
  properties: readonly PropertyState[],
): Promise<readonly (readonly AnyFact[])[]> {
  const step = Math.max(1, properties.length / MOST_TEACHERS);
  const chosen = Array.from(
    { length: Math.min(MOST_TEACHERS, properties.length) },
    (_, n) => properties[Math.floor(n * step)],
  ).filter((state) => state !== undefined);
  const records: (readonly AnyFact[])[] = [];
  for (const { property } of chosen) {
    const facts = await ledger.listFacts(firm, { property, limit: FACTS_A_PAGE });
    if (facts.length > 0) records.push(facts);
    await new Promise((resolve) => setImmediate(resolve));
  }
  return records;
}
