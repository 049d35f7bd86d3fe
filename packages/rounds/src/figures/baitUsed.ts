import type {
  AnyFact,
  Application,
  LabelProfile,
  PartBody,
  StockBody,
  StockMovedBody,
} from '@sillwatch/trade';
import { resolveFacts, type StandingFact } from '@sillwatch/trade';
import type { Day } from '@sillwatch/trade/units';
import { compareKeys } from './compareKeys.ts';
import type { Period } from './rates.ts';
import type { FigureSubject } from './riskColumns.ts';

export interface BaitUse {
  readonly property: string;
  readonly product: string;
  readonly epaRegistrationNumber: string;
  readonly period: string;
  readonly applications: number;
  /** grams of product */
  readonly grams: number;
  /** grams of active ingredient; null where no label profile of the firm is for this registration number */
  readonly activeGrams: number | null;
}

/** Grams of product and active ingredient by property, product and period, from the application records; sorted by all three. */
export function baitUsed(
  subjects: readonly FigureSubject[],
  profiles: readonly LabelProfile[],
  periods: readonly Period[],
): readonly BaitUse[] {
  const percentOf = new Map(
    profiles.map(({ product }) => [product.epaRegistrationNumber, product.activeIngredientPercent]),
  );
  const uses = new Map<string, { -readonly [K in keyof BaitUse]: BaitUse[K] }>();
  for (const { property, day, application } of listApplications(subjects)) {
    const period = periods.find(({ from, to }) => day >= from && day < to);
    if (period === undefined) continue;
    const { productName, epaRegistrationNumber, grams } = application;
    const key = JSON.stringify([property, epaRegistrationNumber, productName, period.name]);
    const percent = percentOf.get(epaRegistrationNumber);
    const known = uses.get(key) ?? {
      property,
      product: productName,
      epaRegistrationNumber,
      period: period.name,
      applications: 0,
      grams: 0,
      activeGrams: percent === undefined ? null : 0,
    };
    known.applications += 1;
    known.grams += grams;
    if (percent !== undefined) known.activeGrams = (known.grams * percent) / 100;
    uses.set(key, known);
  }
  return [...uses].sort(([a], [b]) => compareKeys(a, b)).map(([, use]) => use);
}

export type BaitTotal = Omit<BaitUse, 'property'>;

/** The same by period and product, of all properties together; active grams are null where any product's are not known. */
export function baitTotals(uses: readonly BaitUse[]): readonly BaitTotal[] {
  const totals = new Map<string, BaitTotal>();
  for (const { property: _, ...use } of uses) {
    const key = JSON.stringify([use.period, use.product, use.epaRegistrationNumber]);
    const known = totals.get(key);
    totals.set(key, known === undefined ? use : { ...use, ...sumUses([known, use]) });
  }
  return [...totals].sort(([a], [b]) => compareKeys(a, b)).map(([, total]) => total);
}

/** Applications and grams in all. */
export function sumUses(
  uses: readonly BaitTotal[],
): Pick<BaitTotal, 'applications' | 'grams' | 'activeGrams'> {
  return uses.reduce<Pick<BaitTotal, 'applications' | 'grams' | 'activeGrams'>>(
    (sum, { applications, grams, activeGrams }) => ({
      applications: sum.applications + applications,
      grams: sum.grams + grams,
      activeGrams: sum.activeGrams === null || activeGrams === null ? null : sum.activeGrams + activeGrams,
    }),
    { applications: 0, grams: 0, activeGrams: 0 },
  );
}

function* listApplications(
  subjects: readonly FigureSubject[],
): Generator<{ readonly property: string; readonly day: Day; readonly application: Application }> {
  for (const { history } of subjects) {
    const { property } = history;
    for (const { day, body } of history.looks)
      if (body.application !== null) yield { property, day, application: body.application };
    for (const { day, application } of history.installations)
      if (application !== null) yield { property, day, application };
  }
}

/** One place's stock of one kind of bait between its first and its last count. */
export interface BaitReconciled {
  readonly place: string;
  readonly part: string;
  readonly from: Day;
  readonly to: Day;
  readonly countedFirst: number;
  readonly received: number;
  /** moved in less moved out */
  readonly moved: number;
  /** used by the stations' records of who drives this truck */
  readonly recorded: number;
  readonly countedLast: number;
  /** pieces gone beyond what is recorded; below 0 = more recorded than gone */
  readonly unaccounted: number;
  /** the same in grams of product; null where nobody said how much one holds */
  readonly unaccountedGrams: number | null;
}

export interface BaitNotCounted {
  readonly place: string;
  readonly part: string;
  readonly counts: number;
}

type Told =
  | { readonly kind: 'stock counted' | 'stock received'; readonly body: StockBody }
  | { readonly kind: 'stock moved'; readonly body: StockMovedBody };

/**
 * Bait that stock says was used against bait that records say was used, at each place that was counted at least twice; places counted
 * less often are named, not guessed. `parts` says which parts are bait (`baitGrams` not null).
 */
export function reconcileBait(
  facts: Iterable<AnyFact>,
  subjects: readonly FigureSubject[],
  parts: Readonly<Record<string, PartBody>>,
): { readonly reconciled: readonly BaitReconciled[]; readonly notCounted: readonly BaitNotCounted[] } {
  const told = resolveFacts(facts).standing.flatMap((one) =>
    isStock(one) ? [{ ...one, at: one.when }] : [],
  );
  const counts = new Map<string, { place: string; part: string; ms: number[] }>();
  for (const one of told) {
    if (one.kind === 'stock moved' || (parts[one.body.part]?.baitGrams ?? null) === null) continue;
    const key = JSON.stringify([one.body.place, one.body.part]);
    const known = counts.get(key) ?? { place: one.body.place, part: one.body.part, ms: [] };
    if (one.kind === 'stock counted' && known.ms.at(-1) !== one.when.epochMs) known.ms.push(one.when.epochMs);
    counts.set(key, known);
  }
  const reconciled: BaitReconciled[] = [];
  const notCounted: BaitNotCounted[] = [];
  for (const [, { place, part, ms }] of [...counts].sort(([a], [b]) => compareKeys(a, b))) {
    const first = firstCount(told, place, part);
    const last = lastCount(told, place, part);
    if (first === undefined || last === undefined || first.day >= last.day) {
      notCounted.push({ place, part, counts: ms.length });
      continue;
    }
    const during = (day: Day): boolean => day > first.day && day <= last.day;
    let received = 0;
    let moved = 0;
    for (const one of told) {
      if (one.body.part !== part || !during(one.when.day)) continue;
      if (one.kind === 'stock received' && one.body.place === place) received += one.body.count;
      if (one.kind === 'stock moved') {
        if (one.body.to === place) moved += one.body.count;
        if (one.body.from === place) moved -= one.body.count;
      }
    }
    const recorded = recordedBy(subjects, place, part, during);
    const unaccounted = first.count + received + moved - last.count - recorded;
    const grams = parts[part]?.baitGrams ?? null;
    reconciled.push({
      place,
      part,
      from: first.day,
      to: last.day,
      countedFirst: first.count,
      received,
      moved,
      recorded,
      countedLast: last.count,
      unaccounted,
      unaccountedGrams: grams === null ? null : unaccounted * grams,
    });
  }
  return { reconciled, notCounted };
}

function isStock(one: StandingFact): one is StandingFact & Told {
  return one.kind === 'stock counted' || one.kind === 'stock received' || one.kind === 'stock moved';
}

interface DayCount {
  readonly day: Day;
  readonly count: number;
}

/** A count of a day is of all lots: those of the same day add up, the last of each lot counts. */
function countsByDay(
  told: readonly (StandingFact & Told)[],
  place: string,
  part: string,
): readonly DayCount[] {
  const days = new Map<Day, Map<string, number>>();
  for (const one of told) {
    if (one.kind !== 'stock counted' || one.body.place !== place || one.body.part !== part) continue;
    const lots = days.get(one.when.day) ?? new Map<string, number>();
    lots.set(one.body.lot ?? '', one.body.count);
    days.set(one.when.day, lots);
  }
  return [...days].map(([day, lots]) => ({
    day,
    count: [...lots.values()].reduce((sum, one) => sum + one, 0),
  }));
}

function firstCount(
  told: readonly (StandingFact & Told)[],
  place: string,
  part: string,
): DayCount | undefined {
  return countsByDay(told, place, part)[0];
}

function lastCount(
  told: readonly (StandingFact & Told)[],
  place: string,
  part: string,
): DayCount | undefined {
  return countsByDay(told, place, part).at(-1);
}

function recordedBy(
  subjects: readonly FigureSubject[],
  person: string,
  part: string,
  during: (day: Day) => boolean,
): number {
  let used = 0;
  for (const { history } of subjects)
    for (const { by, day, body } of history.looks)
      if (by === person && during(day)) used += body.work.partsUsed[part] ?? 0;
  return used;
}
