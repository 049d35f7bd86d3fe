import type { Calibration } from '@sillwatch/figures';
import type { AnyFact, FirmState } from '@sillwatch/trade';
import { addMonths, type Day, dayToText } from '@sillwatch/trade/units';
import { type BaitUse, baitTotals, baitUsed, reconcileBait, sumUses } from './baitUsed.ts';
import { bookFigures } from './book.ts';
import { compareKeys } from './compareKeys.ts';
import { calibrateHitRisk, fitHitRisk, type HitRisk } from './hitRisk.ts';
import { stationRuns, stationWatches, structureRuns, structureWatches } from './hitRuns.ts';
import { publishedCriteria } from './publishedCriteria.ts';
import { changeOverYear, quartersUntil, ratesIn } from './rates.ts';
import type { FigureSubject } from './riskColumns.ts';
import { type Sentence, sentence } from './sentences.ts';
import { estimateServiceMinutes } from './serviceMinutes.ts';
import { timeToClear, timeToFirstHit } from './timeToEvent.ts';

export const FIGURES = ['book', 'efficacy', 'risk', 'minutes', 'bait', 'criteria'] as const;
export type FigureName = (typeof FIGURES)[number];

/** What every figure of a firm is reckoned from. */
export interface FigureSource {
  readonly subjects: readonly FigureSubject[];
  readonly withoutProfile: readonly string[];
  readonly firm: FirmState;
  /** of the firm itself, for stock; those of properties may stand among them */
  readonly facts: readonly AnyFact[];
  /** learned from the whole firm beforehand; absent = learned from these subjects */
  readonly learned?: RiskLearned;
}

/** The chance of a hit, and how true chances were that were said half a year before. */
export interface RiskLearned {
  readonly risk: HitRisk;
  readonly calibration: Calibration | null;
}

/** What `riskAnswer` leans on; two fits, so whoever is asked often keeps it. */
export function learnRisk(subjects: readonly FigureSubject[], asOf: Day, risk?: HitRisk): RiskLearned {
  return {
    risk: risk ?? fitHitRisk(subjects, asOf),
    calibration: calibrateHitRisk(subjects, addMonths(asOf, -6)) ?? null,
  };
}

export type BookAnswer = ReturnType<typeof bookAnswer>;
export type EfficacyAnswer = ReturnType<typeof efficacyAnswer>;
export type RiskAnswer = ReturnType<typeof riskAnswer>;
export type MinutesAnswer = ReturnType<typeof minutesAnswer>;
export type BaitAnswer = ReturnType<typeof baitAnswer>;

/** The owner's page: is the book healthy. */
export function bookAnswer({ subjects, withoutProfile }: FigureSource, asOf: Day) {
  const minutes = estimateServiceMinutes(subjects.map(({ history }) => history));
  return bookFigures({ subjects, withoutProfile, minutes, asOf });
}

/** Do the stations do their work: times to the first hit and to clear, rates by quarter, this year against the last. */
export function efficacyAnswer({ subjects }: FigureSource, asOf: Day) {
  const runs = subjects.flatMap((subject) => stationRuns(subject));
  const watches = subjects.flatMap((subject) => stationWatches(subject));
  return {
    asOf: dayToText(asOf),
    toFirstHit: {
      stations: timeToFirstHit(watches, 'stations'),
      structures: timeToFirstHit(structureWatches(watches), 'structures'),
    },
    toClear: {
      stations: timeToClear(runs, 'stations'),
      structures: timeToClear(structureRuns(runs), 'structures'),
    },
    quarters: ratesIn(subjects, quartersUntil(asOf, 12)),
    change: changeOverYear(subjects, asOf),
  };
}

/** Chance of a hit at the next look, the highest first: an order of urgency, never a reason to skip a due visit. */
export function riskAnswer({ subjects, learned }: FigureSource, asOf: Day) {
  const { risk, calibration } = learned ?? learnRisk(subjects, asOf);
  const stations = subjects
    .flatMap(({ history, state }) =>
      state.stations
        .filter((station) => station.inService)
        .flatMap(({ station, number }) => {
          const found = risk.chanceOf(history.property, station, asOf);
          if (found === undefined || found.chance === 0) return [];
          const { chance, lower, upper, from } = found;
          return [{ property: history.property, station, number, chance, lower, upper, from }];
        }),
    )
    .sort((a, b) => b.chance - a.chance);
  return {
    asOf: dayToText(asOf),
    looks: risk.looks,
    hits: risk.hits,
    tooLittle: risk.fit === null,
    calibration,
    calibrationSays: calibrationSays(calibration),
    stations,
  };
}

/** Spiegelhalter's test at one in twenty. */
function calibrationSays(calibration: Calibration | null): Sentence {
  if (calibration === null) return sentence('chances not tried');
  const { happened, expected, p } = calibration;
  return sentence(p === null || p >= 0.05 ? 'chances kept' : 'chances off', { happened, expected, p });
}

/** Minutes that work takes, as learned, the properties that differ most first, and the records that are far off. */
export function minutesAnswer({ subjects }: FigureSource) {
  const {
    minutesFor: _,
    byProperty,
    ...learned
  } = estimateServiceMinutes(subjects.map(({ history }) => history));
  const properties = Object.entries(byProperty)
    .map(([property, factor]) => ({ property, ...factor }))
    .sort((a, b) => awayFromOne(b.factor) - awayFromOne(a.factor) || compareKeys(a.property, b.property));
  const stations = Object.values(learned.perStation).reduce((sum, { records }) => sum + records, 0);
  const values = { stations, visits: learned.perVisit.records, odd: learned.odd.length };
  const says =
    stations + values.visits + values.odd === 0
      ? sentence('minutes assumed')
      : sentence('minutes learned', values);
  return { ...learned, byProperty: properties, says };
}

/** Half as long is as far from the usual as twice as long. */
function awayFromOne(factor: number): number {
  return Math.abs(Math.log(Math.max(factor, 1e-6)));
}

/** Bait by property, product and quarter, and held against counted stock. */
export function baitAnswer({ subjects, firm, facts }: FigureSource, asOf: Day) {
  const used: readonly BaitUse[] = baitUsed(subjects, Object.values(firm.profiles), quartersUntil(asOf, 4));
  const totals = baitTotals(used);
  const { reconciled, notCounted } = reconcileBait(facts, subjects, firm.parts);
  return {
    asOf: dayToText(asOf),
    says: used.length === 0 ? sentence('none') : sentence('bait used', { ...sumUses(totals) }),
    totals,
    used,
    // By place and part, as words: whoever reads JSON should not have to know how days are counted here.
    reconciled: reconciled.map(({ from, to, ...one }) => ({
      ...one,
      from: dayToText(from),
      to: dayToText(to),
    })),
    notCounted,
  };
}

/** The answer of this name, as data that JSON can carry. */
export function figureAnswer(name: FigureName, source: FigureSource, asOf: Day): unknown {
  switch (name) {
    case 'book':
      return bookAnswer(source, asOf);
    case 'efficacy':
      return efficacyAnswer(source, asOf);
    case 'risk':
      return riskAnswer(source, asOf);
    case 'minutes':
      return minutesAnswer(source);
    case 'bait':
      return baitAnswer(source, asOf);
    case 'criteria':
      return publishedCriteria(source.subjects, asOf);
  }
}
