import {
  kaplanMeier,
  type LogRankGroups,
  logRankGroups,
  medianInterval,
  normalQuantile,
  type RestrictedMean,
  restrictedMeanWithError,
  type SurvivalStep,
  survivalAt,
  type Watched,
} from '@sillwatch/figures';
import { civilFromDay, type Day } from '@sillwatch/trade/units';
import { compareKeys } from './compareKeys.ts';
import type { HitRun, Watch } from './hitRuns.ts';
import { type Sentence, sentence } from './sentences.ts';

/** With less than this a curve is not shown. */
export const LEAST_SUBJECTS = 10;
export const LEAST_EVENTS = 5;

export type FigureUnit = 'stations' | 'structures';

export interface TimeToEvent {
  readonly unit: FigureUnit;
  readonly subjects: number;
  readonly events: number;
  /** null = too little to say, and nothing below is given */
  readonly curve: EventCurve | null;
  readonly says: Sentence;
}

/** Days; shares are of those to whom it has not come yet. */
export interface EventCurve {
  readonly steps: readonly SurvivalStep[];
  readonly median: number | null;
  readonly medianInterval: { readonly lower: number | null; readonly upper: number | null };
  readonly after: readonly {
    readonly days: number;
    readonly left: number;
    readonly interval: { readonly lower: number; readonly upper: number } | null;
  }[];
  /** mean days until it comes, up to the horizon */
  readonly restrictedMean: RestrictedMean & { readonly horizonDays: number; readonly says: Sentence };
}

export interface GroupedTimes {
  readonly all: TimeToEvent;
  readonly groups: readonly (TimeToEvent & { readonly group: string })[];
  /** null where the groups say too little of each other */
  readonly logRank: LogRankGroups | null;
  /** null where there are no groups to compare */
  readonly says: Sentence | null;
}

const CONFIDENCE = 0.95;
const AFTER_DAYS = [90, 180, 365, 730] as const;

/**
 * Time until it came, by group and in all (Kaplan and Meier, Greenwood, log-log intervals; log-rank between groups). Termites are found at looks, so
 * a time is that of the look at which they were found.
 */
export function groupedTimes(
  subjects: readonly (Watched & { readonly group: string })[],
  unit: FigureUnit,
): GroupedTimes {
  const byGroup = new Map<string, Watched[]>();
  for (const one of subjects) {
    const known = byGroup.get(one.group);
    if (known === undefined) byGroup.set(one.group, [one]);
    else known.push(one);
  }
  const ordered = [...byGroup].sort(([a], [b]) => compareKeys(a, b));
  const groups = ordered.map(([group, own]) => ({ group, ...timeToEvent(own, unit) }));
  // Tested only among groups that say enough on their own.
  const heard = ordered.filter((_, at) => groups[at]?.curve !== null).map(([, own]) => own);
  const logRank = heard.length < 2 ? null : (logRankGroups(heard) ?? null);
  return {
    all: timeToEvent(subjects, unit),
    groups,
    logRank,
    says: logRank !== null ? sayTest(logRank) : groups.length < 2 ? null : sentence('groups too few'),
  };
}

function sayTest({ chiSquare, degrees, p }: LogRankGroups): Sentence {
  return sentence(p < 0.05 ? 'groups differ' : 'groups alike', { chiSquare, degrees, p });
}

export function timeToEvent(subjects: readonly Watched[], unit: FigureUnit): TimeToEvent {
  const events = subjects.filter(({ event }) => event).length;
  const curve = kaplanMeier(subjects, CONFIDENCE);
  if (curve === undefined || subjects.length < LEAST_SUBJECTS || events < LEAST_EVENTS)
    return {
      unit,
      subjects: subjects.length,
      events,
      curve: null,
      says: sentence('too little to say', {
        events,
        subjects: subjects.length,
        leastEvents: LEAST_EVENTS,
        leastSubjects: LEAST_SUBJECTS,
        unit,
      }),
    };
  const longest = subjects.reduce((most, { time }) => Math.max(most, time), 0);
  const horizonDays = Math.min(730, longest);
  const interval = medianInterval(curve);
  const { median } = curve;
  const mean = restrictedMeanWithError(curve, horizonDays);
  return {
    unit,
    subjects: subjects.length,
    events,
    curve: {
      steps: curve.steps,
      median,
      medianInterval: interval,
      after: AFTER_DAYS.filter((days) => days <= longest).map((days) => {
        const { survival, interval: at } = survivalAt(curve, days);
        return { days, left: survival, interval: at };
      }),
      restrictedMean: { ...mean, horizonDays, says: sayMean(mean, horizonDays) },
    },
    says:
      median === null
        ? sentence('half not yet', { subjects: subjects.length, unit, events })
        : sentence('half by', {
            subjects: subjects.length,
            unit,
            median,
            lower: interval.lower,
            upper: interval.upper,
          }),
  };
}

/** Normal limits, kept inside the time that was watched. */
function sayMean({ mean, standardError }: RestrictedMean, horizon: number): Sentence {
  const reach = NINETEEN_IN_TWENTY * standardError;
  const lower = Math.max(0, mean - reach);
  return sentence('mean wait', { mean, horizon, lower, upper: Math.min(horizon, mean + reach) });
}

/** Normal quantile at 0.975. */
const NINETEEN_IN_TWENTY = normalQuantile(0.975);

/** Meteorological seasons of the northern half of the earth, by the month of a day. */
export type Season = '1 winter' | '2 spring' | '3 summer' | '4 autumn';

export function seasonOf(day: Day): Season {
  const { month } = civilFromDay(day);
  return month <= 2 || month === 12
    ? '1 winter'
    : month <= 5
      ? '2 spring'
      : month <= 8
        ? '3 summer'
        : '4 autumn';
}

/** From installation to the first hit, grouped by the season of installation: foraging near the surface follows it. */
export function timeToFirstHit(watches: readonly Watch[], unit: FigureUnit): GroupedTimes {
  const subjects = watches.flatMap(({ installedOn, firstHitOn, lastLookOn }) => {
    const until = firstHitOn ?? lastLookOn;
    return until === null || until < installedOn
      ? []
      : [{ time: until - installedOn, event: firstHitOn !== null, group: seasonOf(installedOn) }];
  });
  return groupedTimes(subjects, unit);
}

/** From the first bait after a hit to clear, grouped by the year of baiting. */
export function timeToClear(runs: readonly HitRun[], unit: FigureUnit): GroupedTimes {
  const subjects = runs.flatMap(({ baitedOn, clearedOn, lastLookOn }) =>
    baitedOn === null
      ? []
      : [
          {
            time: Math.max(0, (clearedOn ?? lastLookOn) - baitedOn),
            event: clearedOn !== null,
            group: String(civilFromDay(baitedOn).year),
          },
        ],
  );
  return groupedTimes(subjects, unit);
}
