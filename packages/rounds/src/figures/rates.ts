import { compareRates, designEffect, exactPoisson, type Interval, type RateRatio } from '@sillwatch/figures';
import type { StationSeenBody } from '@sillwatch/trade';
import { addDays, addMonths, civilFromDay, type Day, dayFromCivil } from '@sillwatch/trade/units';
import { type HitRun, stationRuns } from './hitRuns.ts';
import type { FigureSubject } from './riskColumns.ts';
import { type Sentence, sentence } from './sentences.ts';

/** From `from` up to, not including, `to`. */
export interface Period {
  readonly name: string;
  readonly from: Day;
  readonly to: Day;
}

export interface PeriodRates {
  readonly period: Period;
  /** station-days in service over the days of a quarter */
  readonly stationQuarters: number;
  readonly looks: number;
  readonly hits: number;
  /** hits a station-quarter, 95 %, exact; null without stations */
  readonly hitRate: Interval | null;
  readonly monitorsLost: number;
  readonly notOpened: number;
  /** structures and stations that became clear */
  readonly stationsCleared: number;
  readonly says: Sentence;
}

const QUARTER_DAYS = 365.25 / 4;

/** Calendar quarters up to the one of `asOf`, oldest first. The last is cut at `asOf`, inclusive. */
export function quartersUntil(asOf: Day, count: number): readonly Period[] {
  const { year, month } = civilFromDay(asOf);
  const quarter = Math.floor((month - 1) / 3);
  const first = dayFromCivil(year, quarter * 3 + 1, 1);
  return Array.from({ length: count }, (_, at) => {
    const from = addMonths(first, -3 * (count - 1 - at));
    const end = addMonths(from, 3);
    const { year: ofYear, month: ofMonth } = civilFromDay(from);
    return { name: `${ofYear} Q${(ofMonth + 2) / 3}`, from, to: end > asOf ? addDays(asOf, 1) : end };
  });
}

/** Hits a station-quarter with exact intervals, monitors lost, stations not opened, in each period. */
export function ratesIn(
  subjects: readonly FigureSubject[],
  periods: readonly Period[],
): readonly PeriodRates[] {
  return ratesOf(subjects, subjects.flatMap(stationRuns), periods);
}

function ratesOf(
  subjects: readonly FigureSubject[],
  runs: readonly HitRun[],
  periods: readonly Period[],
): readonly PeriodRates[] {
  const drafts = periods.map(() => ({ days: 0, looks: 0, hits: 0, lost: 0, notOpened: 0, cleared: 0 }));
  const inPeriod = (day: Day): number => periods.findIndex(({ from, to }) => day >= from && day < to);
  const at = (day: Day) => drafts[inPeriod(day)];
  for (const subject of subjects) {
    for (const [from, to] of serviceSpans(subject))
      periods.forEach((period, index) => {
        const draft = drafts[index];
        const days = Math.min(to ?? period.to, period.to) - Math.max(from, period.from);
        if (draft !== undefined && days > 0) draft.days += days;
      });
    for (const { day, body } of subject.history.looks) {
      const draft = at(day);
      if (draft === undefined) continue;
      draft.looks += 1;
      if (body.finding.reach !== 'opened') draft.notOpened += 1;
      else if (lostMonitor(body)) draft.lost += 1;
    }
  }
  for (const { hitOn, clearedOn } of runs) {
    const hit = at(hitOn);
    if (hit !== undefined) hit.hits += 1;
    const cleared = clearedOn === null ? undefined : at(clearedOn);
    if (cleared !== undefined) cleared.cleared += 1;
  }
  return periods.map((period, index) => {
    const { days = 0, looks = 0, hits = 0, lost = 0, notOpened = 0, cleared = 0 } = drafts[index] ?? {};
    const stationQuarters = days / QUARTER_DAYS;
    const hitRate = exactPoisson(hits, stationQuarters, 0.95) ?? null;
    return {
      period,
      stationQuarters,
      looks,
      hits,
      hitRate,
      monitorsLost: lost,
      notOpened,
      stationsCleared: cleared,
      says: sayRate(hits, stationQuarters, hitRate),
    };
  });
}

function lostMonitor({ finding }: StationSeenBody): boolean {
  return finding.reach === 'opened' && finding.monitor === 'missing';
}

function sayRate(events: number, exposure: number, rate: Interval | null): Sentence {
  return rate === null
    ? sentence('none')
    : sentence('rate', {
        events,
        exposure,
        rate: 100 * rate.estimate,
        lower: 100 * rate.lower,
        upper: 100 * rate.upper,
      });
}

/** First installation to removal of each station; null = still in service. */
function serviceSpans({ history }: FigureSubject): readonly (readonly [Day, Day | null])[] {
  const begun = new Map<string, Day>();
  const ended = new Map(history.removals.map(({ station, day }) => [station, day]));
  for (const { station, day } of history.installations) if (!begun.has(station)) begun.set(station, day);
  return [...begun].map(([station, from]) => [from, ended.get(station) ?? null] as const);
}

export interface YearChange {
  readonly now: PeriodRates;
  readonly before: PeriodRates;
  /** hits counted for one, because those of one structure hang together (Rao and Scott 1992) */
  readonly designEffect: number;
  /** null = too little to say */
  readonly ratio: RateRatio | null;
  readonly says: Sentence;
}

/** The twelve months up to and including `asOf` against the twelve before. */
export function changeOverYear(subjects: readonly FigureSubject[], asOf: Day): YearChange {
  const to = addDays(asOf, 1);
  const from = addMonths(to, -12);
  const runs = subjects.flatMap(stationRuns);
  const [before, now] = ratesOf(subjects, runs, [
    { name: 'the year before', from: addMonths(to, -24), to: from },
    { name: 'the last twelve months', from, to },
  ]);
  if (before === undefined || now === undefined) throw new Error('two periods give two rates');
  const structures = hitsByStructure(runs, before.period, now.period);
  const effect = designEffect(structures);
  const few =
    now.hits + before.hits < LEAST_HITS_TO_COMPARE || structures.length < LEAST_STRUCTURES_TO_COMPARE;
  const ratio = few
    ? null
    : (compareRates(
        { events: now.hits, exposure: now.stationQuarters },
        { events: before.hits, exposure: before.stationQuarters },
        0.95,
        effect,
      ) ?? null);
  const years = [before, now].filter(({ stationQuarters }) => stationQuarters > 0).length;
  return {
    now,
    before,
    designEffect: effect,
    ratio,
    says: ratio === null ? sayTooLittle(now.hits + before.hits, years, structures.length) : sayChange(ratio),
  };
}

/** Of each structure's hits in the two years, how many came in the later one: stations of one structure may share a colony. */
function hitsByStructure(
  runs: readonly HitRun[],
  before: Period,
  now: Period,
): readonly { readonly events: number; readonly trials: number }[] {
  const structures = new Map<string, { events: number; trials: number }>();
  for (const { property, structure, hitOn } of runs) {
    if (hitOn < before.from || hitOn >= now.to) continue;
    const key = `${property}\u0000${structure}`;
    const known = structures.get(key) ?? { events: 0, trials: 0 };
    known.trials += 1;
    if (hitOn >= now.from) known.events += 1;
    structures.set(key, known);
  }
  return [...structures.values()];
}

const LEAST_HITS_TO_COMPARE = 10;
/** One colony at one house says nothing of a year. */
const LEAST_STRUCTURES_TO_COMPARE = 5;

function sayTooLittle(events: number, years: number, structures: number): Sentence {
  const asked =
    years < 2
      ? { subjects: years, leastSubjects: 2, unit: 'years' }
      : { subjects: structures, leastSubjects: LEAST_STRUCTURES_TO_COMPARE, unit: 'structures' };
  return sentence('too little to say', { events, leastEvents: LEAST_HITS_TO_COMPARE, ...asked });
}

function sayChange(ratio: RateRatio): Sentence {
  const values = { ratio: ratio.estimate, lower: ratio.lower, upper: ratio.upper };
  return sentence(ratio.upper < 1 ? 'rate fell' : ratio.lower > 1 ? 'rate rose' : 'rate unchanged', values);
}
