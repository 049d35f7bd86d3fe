import { exactBinomial, type Interval } from '@sillwatch/figures';
import { addMonths, type Day, dayToText } from '@sillwatch/trade/units';
import {
  lateWork,
  type PropertyList,
  renewals,
  stationsCarriedOver,
  stationsUnseenTwice,
} from './bookLists.ts';
import { type TimeAndMaterial, timeAndMaterial } from './bookMaterial.ts';
import { type Workload, workload } from './bookWorkload.ts';
import { type Funnel, type FunnelCase, funnelOf } from './funnels.ts';
import { stationRuns, stationWatches, structureRuns, structureWatches } from './hitRuns.ts';
import { changeOverYear, type PeriodRates, quartersUntil, ratesIn, type YearChange } from './rates.ts';
import type { FigureSubject } from './riskColumns.ts';
import { type Sentence, sentence } from './sentences.ts';
import type { ServiceMinutes } from './serviceMinutes.ts';
import { type GroupedTimes, timeToClear, timeToFirstHit } from './timeToEvent.ts';
import { type DoneWork, doneWorks } from './windowsKept.ts';

export interface BookQuestion {
  readonly subjects: readonly FigureSubject[];
  /** properties whose label profile is not known: in no figure, but named (see `readSubjects`) */
  readonly withoutProfile: readonly string[];
  readonly minutes: ServiceMinutes;
  readonly asOf: Day;
  /** quarters of history to show; default 12 */
  readonly quarters?: number;
  /** months of workload ahead; default 3 */
  readonly monthsAhead?: number;
}

/** What the owner's page shows: each figure with its sentence and the properties behind it. Days are `YYYY-MM-DD`, the rest is plain data. */
export interface BookFigures {
  readonly asOf: string;
  readonly properties: number;
  readonly stations: number;
  readonly withoutProfile: readonly string[];
  readonly late: PropertyList;
  readonly windowsKept: WindowsKept;
  readonly unseenTwice: PropertyList;
  readonly carriedOver: PropertyList;
  /** null without a property */
  readonly hits: {
    readonly quarters: readonly PeriodRates[];
    readonly change: YearChange;
    readonly toFirstHit: GroupedTimes;
    readonly toClear: GroupedTimes;
    readonly open: PropertyList;
  } | null;
  readonly workload: Workload;
  readonly timeAndMaterial: readonly TimeAndMaterial[];
  readonly renewals: PropertyList;
  readonly technicians: { readonly windowsMissed: Funnel; readonly notOpened: Funnel };
  readonly branches: { readonly windowsMissed: Funnel; readonly notOpened: Funnel };
}

export interface WindowsKept {
  /** over the last twelve months */
  readonly looks: KeptShare;
  readonly yearlyServices: KeptShare;
  readonly quarters: readonly {
    readonly name: string;
    readonly kept: number;
    readonly done: number;
    readonly share: Interval | null;
  }[];
}

export interface KeptShare {
  readonly kept: number;
  readonly done: number;
  readonly share: Interval | null;
  readonly says: Sentence;
  readonly missedAt: readonly { readonly property: string; readonly count: number }[];
}

/** The whole book on one page: a pure function of facts, label profiles and a day. */
export function bookFigures(question: BookQuestion): BookFigures {
  const { subjects, asOf, minutes } = question;
  const states = subjects.map(({ state }) => state);
  const done = subjects.flatMap((subject) => doneWorks(subject));
  const inYear = done.filter(({ doneOn }) => doneOn > addMonths(asOf, -12) && doneOn <= asOf);
  return {
    asOf: dayToText(asOf),
    properties: states.length,
    stations: states.reduce((sum, { stations }) => sum + stations.filter((one) => one.inService).length, 0),
    withoutProfile: question.withoutProfile,
    late: lateWork(subjects, asOf),
    windowsKept: windowsKept(done, inYear, asOf, question.quarters ?? 12),
    unseenTwice: stationsUnseenTwice(states),
    carriedOver: stationsCarriedOver(states),
    hits: hitFigures(subjects, asOf, question.quarters ?? 12),
    workload: workload(subjects, minutes, asOf, question.monthsAhead ?? 3),
    timeAndMaterial: timeAndMaterial(subjects, addMonths(asOf, -12), asOf),
    renewals: renewals(states, asOf),
    technicians: funnels(subjects, inYear, asOf, ({ by }) => by),
    branches: funnels(subjects, inYear, asOf, ({ branch }) => branch),
  };
}

function windowsKept(
  done: readonly DoneWork[],
  inYear: readonly DoneWork[],
  asOf: Day,
  quarters: number,
): WindowsKept {
  return {
    looks: keptShare(inYear.filter(({ work }) => work === 'look')),
    yearlyServices: keptShare(inYear.filter(({ work }) => work === 'yearly service')),
    quarters: quartersUntil(asOf, quarters).map(({ name, from, to }) => {
      const own = done.filter(({ doneOn }) => doneOn >= from && doneOn < to);
      const kept = own.filter((one) => one.kept).length;
      return { name, kept, done: own.length, share: exactBinomial(kept, own.length, 0.95) ?? null };
    }),
  };
}

function keptShare(done: readonly DoneWork[]): KeptShare {
  const kept = done.filter((one) => one.kept).length;
  const share = exactBinomial(kept, done.length, 0.95) ?? null;
  const missed = new Map<string, number>();
  for (const one of done) if (!one.kept) missed.set(one.property, (missed.get(one.property) ?? 0) + 1);
  return {
    kept,
    done: done.length,
    share,
    says:
      share === null
        ? sentence('none')
        : sentence('share', {
            events: kept,
            trials: done.length,
            share: 100 * share.estimate,
            lower: 100 * share.lower,
            upper: 100 * share.upper,
          }),
    missedAt: [...missed]
      .map(([property, count]) => ({ property, count }))
      .sort((a, b) => b.count - a.count || (a.property < b.property ? -1 : 1)),
  };
}

function hitFigures(subjects: readonly FigureSubject[], asOf: Day, quarters: number): BookFigures['hits'] {
  if (subjects.length === 0) return null;
  const runs = subjects.flatMap((subject) => stationRuns(subject));
  const structures = structureRuns(runs);
  const watches = structureWatches(subjects.flatMap((subject) => stationWatches(subject)));
  const open = new Map<string, number>();
  for (const { property, clearedOn } of runs)
    if (clearedOn === null) open.set(property, (open.get(property) ?? 0) + 1);
  const items = [...open].map(([property, count]) => ({ property, count, day: null }));
  return {
    quarters: ratesIn(subjects, quartersUntil(asOf, quarters)),
    change: changeOverYear(subjects, asOf),
    toFirstHit: timeToFirstHit(watches, 'structures'),
    toClear: timeToClear(structures, 'structures'),
    open: {
      count: items.reduce((sum, { count }) => sum + count, 0),
      items: items.sort((a, b) => b.count - a.count || (a.property < b.property ? -1 : 1)),
      says: sentence('count', {
        count: items.reduce((sum, { count }) => sum + count, 0),
        properties: items.length,
      }),
    },
  };
}

function funnels(
  subjects: readonly FigureSubject[],
  inYear: readonly DoneWork[],
  asOf: Day,
  keyOf: (one: { readonly by: string; readonly branch: string }) => string,
): BookFigures['technicians'] {
  const branchOf = new Map(subjects.map(({ history, branch }) => [history.property, branch]));
  const from = addMonths(asOf, -12);
  const missed = new Map<string, FunnelDraft>();
  const unopened = new Map<string, FunnelDraft>();
  const add = (drafts: Map<string, FunnelDraft>, property: string, by: string, isEvent: boolean): void => {
    const key = keyOf({ by, branch: branchOf.get(property) ?? '' });
    const id = JSON.stringify([key, property]);
    const draft = drafts.get(id) ?? { key, property, events: 0, trials: 0 };
    draft.trials += 1;
    if (isEvent) draft.events += 1;
    drafts.set(id, draft);
  };
  for (const { property, by, kept } of inYear) add(missed, property, by, !kept);
  for (const { history } of subjects)
    for (const { by, day, body } of history.looks)
      if (day > from && day <= asOf) add(unopened, history.property, by, body.finding.reach !== 'opened');
  return { windowsMissed: funnelOf([...missed.values()]), notOpened: funnelOf([...unopened.values()]) };
}

type FunnelDraft = { -readonly [K in keyof FunnelCase]: FunnelCase[K] };
