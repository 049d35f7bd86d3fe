import {
  type Day,
  type DueItem,
  type StationModel,
  stepsFor,
  type TellKey,
  type WorkKind,
} from '@sillwatch/trade';
import { listLooks } from '../../shared/looks.ts';
import { stateBefore, type VisitView } from '../serve/visit.ts';
import type { FieldProperty } from '../store/port.ts';

export interface VisitSummary {
  readonly opened: number;
  readonly unopened: number;
  readonly stations: number;
  /** True when no opened station had live termites. */
  readonly isQuiet: boolean;
  /** What the customer is told, with the numbers of the stations that it is told of; in order of first mention. */
  readonly told: readonly { readonly key: TellKey; readonly numbers: readonly number[] }[];
  readonly baits: readonly {
    readonly product: string;
    readonly registration: string;
    readonly grams: number;
  }[];
  readonly next: { readonly work: WorkKind; readonly target: Day; readonly latest: Day } | undefined;
}

/** Not worth a line for each station: said once for all of them. */
const SAID_ONCE: ReadonlySet<TellKey> = new Set<TellKey>(['no termites', 'could not open']);

/** The visit in the customer's terms: the rules asked again for each look as it stands now. */
export function summarise(
  property: FieldProperty,
  visit: VisitView,
  models: Readonly<Record<string, StationModel>>,
): VisitSummary {
  const { profile, facts, state } = property;
  const looks = [...visit.seen.values()];
  const told = new Map<TellKey, number[]>();
  for (const { fact, body } of looks) {
    if (profile === undefined) continue;
    const before = stateBefore(facts, fact.id, profile);
    const model = before === undefined ? undefined : models[before.state.model];
    if (before === undefined || model === undefined) continue;
    const asked = stepsFor({ state: before.state, model, profile, task: body.task, finding: body.finding });
    for (const key of asked.tell) {
      if (SAID_ONCE.has(key) || !wasDone(key, body.work)) continue;
      const numbers = told.get(key) ?? [];
      numbers.push(before.state.number);
      told.set(key, numbers);
    }
  }
  const grams = new Map<string, { product: string; registration: string; grams: number }>();
  const ofVisit = new Set(looks.map(({ fact }) => fact.id));
  for (const { fact, body } of listLooks(facts)) {
    if (!ofVisit.has(fact.id) || body.application === null) continue;
    const { productName, epaRegistrationNumber, grams: amount } = body.application;
    const key = `${productName} ${epaRegistrationNumber}`;
    const sum = grams.get(key) ?? { product: productName, registration: epaRegistrationNumber, grams: 0 };
    grams.set(key, { ...sum, grams: sum.grams + amount });
  }
  const opened = looks.filter(({ body }) => body.finding.reach === 'opened');
  return {
    opened: opened.length,
    unopened: looks.length - opened.length,
    stations: state.stations.filter(({ inService }) => inService).length,
    isQuiet: opened.every(
      ({ body: { finding } }) =>
        finding.reach !== 'opened' || finding.termites === 'none' || finding.termites === 'signs only',
    ),
    told: [...told].map(([key, numbers]) => ({ key, numbers: numbers.toSorted((a, b) => a - b) })),
    baits: [...grams.values()],
    next: firstDue(property.due?.items ?? [], new Set(visit.seen.keys()), property.today),
  };
}

/** What the rules would tell of work that was then not done is not told. */
function wasDone(
  key: TellKey,
  work: { readonly yearlyServiceDone: boolean; readonly fitted: readonly { readonly insert: string }[] },
): boolean {
  switch (key) {
    case 'service done':
      return work.yearlyServiceDone;
    case 'bait put in':
    case 'bait added':
    case 'bait renewed':
      return work.fitted.some(({ insert }) => insert === 'bait');
    case 'monitor renewed':
      return work.fitted.some(({ insert }) => insert === 'monitor');
    default:
      return true;
  }
}

/** The first that comes due at a station of this visit: what one can name to the customer. */
function firstDue(items: readonly DueItem[], seen: ReadonlySet<string>, today: Day): VisitSummary['next'] {
  const first = items
    .filter(({ station, target }) => seen.has(station) && target > today)
    .toSorted((a, b) => a.target - b.target)[0];
  return first === undefined ? undefined : { work: first.work, target: first.target, latest: first.latest };
}
