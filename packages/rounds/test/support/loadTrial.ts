import { generateDemo } from '@sillwatch/demo';
import {
  type AnyFact,
  addMonths,
  type Day,
  DEMO_PROFILE,
  dueWork,
  foldProperty,
  getMoment,
  type InstallBody,
  STATION_MODELS,
  type StationSeenBody,
} from '@sillwatch/trade';
import {
  fitHitRisk,
  historyOf,
  type Load,
  type LoadVisit,
  learnWear,
  loadFor,
  newStationUses,
  subjectOf,
} from '../../src/index.ts';

/** One round of the past: what it used, and what the load made from the facts before its month would have been. */
export interface TriedRound {
  readonly day: Day;
  readonly used: ReadonlyMap<string, number>;
  readonly load: Load;
}

export interface TrialOptions {
  readonly seed: number;
  readonly properties: number;
  readonly today: Day;
  /** first month of the trial, counted back from today */
  readonly fromMonthsAgo: number;
  /** months between refits */
  readonly step: number;
  readonly visitsInRound: number;
  readonly chance: number;
  readonly onRound?: (round: TriedRound) => void;
}

interface PastVisit {
  readonly property: string;
  readonly branch: string;
  readonly day: Day;
  readonly facts: readonly AnyFact[];
  readonly before: readonly AnyFact[];
}

const MODELS = Object.fromEntries(STATION_MODELS.map((model) => [model.id, model]));
const PROFILES = { [DEMO_PROFILE.id]: DEMO_PROFILE };

/**
 * Walks through the demo firm's history: each month the chances are learned from the facts before it only, and the rounds of the month, as
 * they were driven, are loaded and held against what they used.
 */
export function tryLoads(options: TrialOptions): readonly TriedRound[] {
  const { seed, properties, today, step, visitsInRound, chance } = options;
  const { facts } = generateDemo({ seed, today, properties });
  const byProperty = groupFacts(facts);
  const visits = [...byProperty].flatMap(([property, own]) => listVisits(property, own));
  const rounds: TriedRound[] = [];
  for (let months = options.fromMonthsAgo; months > 0; months -= step) {
    const from = addMonths(today, -months);
    const to = addMonths(today, -Math.max(0, months - step));
    const subjects = [...byProperty].flatMap(([property, own]) => {
      const known = own.filter((fact) => getMoment(fact.at).day < from);
      return known.length === 0
        ? []
        : [subjectOf(historyOf(property, known), foldProperty(known), DEMO_PROFILE)];
    });
    const risk = fitHitRisk(subjects, from);
    const wear = learnWear(subjects, from);
    const due = visits.filter(({ day }) => day >= from && day < to);
    due.sort((a, b) => (a.branch < b.branch ? -1 : a.branch > b.branch ? 1 : a.day - b.day));
    for (let at = 0; at + visitsInRound <= due.length; at += visitsInRound) {
      const round = due.slice(at, at + visitsInRound);
      if (round[0]?.branch !== round[visitsInRound - 1]?.branch) continue;
      const states = new Map(round.map(({ property, before }) => [property, foldProperty(before)]));
      if (states.size < visitsInRound) continue;
      const load = loadFor(
        {
          visits: round.map((visit) => toVisit(visit)),
          states,
          profiles: PROFILES,
          models: MODELS,
          risk,
          wear,
        },
        { chance },
      );
      const tried = { day: round[0]?.day ?? from, used: usedIn(round), load };
      rounds.push(tried);
      options.onRound?.(tried);
    }
  }
  return rounds;
}

function groupFacts(facts: readonly AnyFact[]): Map<string, AnyFact[]> {
  const byProperty = new Map<string, AnyFact[]>();
  for (const fact of facts) {
    if (fact.property === null) continue;
    const own = byProperty.get(fact.property);
    if (own === undefined) byProperty.set(fact.property, [fact]);
    else own.push(fact);
  }
  return byProperty;
}

/** The demo records a property's visits one after the other, each closed by its own fact. */
function listVisits(property: string, own: readonly AnyFact[]): readonly PastVisit[] {
  const visits: PastVisit[] = [];
  const branch = foldProperty(own).body?.branch ?? '';
  let begin = own.findIndex((fact) => fact.kind === 'station seen' || fact.kind === 'station replaced');
  if (begin < 0) return [];
  own.forEach((fact, at) => {
    if (fact.kind !== 'visit closed') return;
    visits.push({
      property,
      branch,
      day: getMoment(fact.at).day,
      facts: own.slice(begin, at),
      before: own.slice(0, begin),
    });
    begin = at + 1;
  });
  return visits;
}

function toVisit({ property, day, before }: PastVisit): LoadVisit {
  const { stations } = foldProperty(before);
  const items = dueWork(stations, DEMO_PROFILE, day).items.filter(
    (item) => item.earliest <= day || item.work === 'replacement',
  );
  return {
    property,
    day,
    works: stations
      .filter((station) => station.inService)
      .flatMap(({ station }) => {
        const own = items.filter((item) => item.station === station);
        return own.length === 0
          ? [{ station, work: 'check' as const }]
          : own.map(({ work }) => ({ station, work }));
      }),
  };
}

function usedIn(round: readonly PastVisit[]): ReadonlyMap<string, number> {
  const used = new Map<string, number>();
  const add = (part: string, count: number): void => {
    used.set(part, (used.get(part) ?? 0) + count);
  };
  for (const { facts } of round) {
    for (const fact of facts) {
      if (isSeen(fact))
        for (const [part, count] of Object.entries(fact.body.work.partsUsed)) add(part, count);
      const model = newModel(fact);
      if (model === undefined) continue;
      const of = MODELS[model];
      if (of !== undefined)
        for (const { part, count } of newStationUses(of, 1, 'set the replacement')) add(part, count);
    }
  }
  return used;
}

function isSeen(fact: AnyFact): fact is AnyFact & { readonly body: StationSeenBody } {
  return fact.kind === 'station seen';
}

function isInstalled(fact: AnyFact): fact is AnyFact & { readonly body: InstallBody } {
  return fact.kind === 'station installed' || fact.kind === 'station replaced';
}

function newModel(fact: AnyFact): string | undefined {
  return isInstalled(fact) ? fact.body.model : undefined;
}
