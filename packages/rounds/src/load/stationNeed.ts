import { type Counts, type HazardAt, meanChance, NORMAL_NODES } from '@sillwatch/figures';
import {
  assessClearance,
  type LabelProfile,
  type StationModel,
  type StationState,
  type StepId,
  type WorkKind,
} from '@sillwatch/trade';
import type { Day } from '@sillwatch/trade/units';
import type { HitRisk } from '../figures/hitRisk.ts';
import { type LoadStep, newStationUses, type Outcome, type OutcomeBook } from './outcomes.ts';
import { afterMisses, type Shares, type WearRates } from './wear.ts';

/** What a station may use of each part, apart for live termites and none, so that what stations share can be mixed in. */
export interface StationNeed {
  readonly structure: string;
  readonly parts: ReadonlyMap<string, { readonly live: Counts; readonly quiet: Counts }>;
  /** chance of live termites where the station can be opened: fixed, or by a node of what is not known of the structure */
  readonly liveAt: readonly number[];
  readonly live: number;
  readonly missed: number;
  /** chance that the station is replaced instead of looked at, and what that uses */
  readonly replaced: number;
  readonly replacement: ReadonlyMap<string, number>;
  /** used where nothing unusual is found */
  readonly usual: ReadonlyMap<string, number>;
  readonly reasons: readonly NeedReason[];
  /** steps that may come, with their chance */
  readonly steps: ReadonlyMap<StepId, number>;
}

export interface NeedReason {
  readonly part: string;
  readonly step: LoadStep;
  /** pieces, on average */
  readonly expected: number;
  readonly usual: number;
}

export interface NeedQuestion {
  readonly state: StationState;
  readonly model: StationModel;
  readonly profile: LabelProfile;
  readonly works: readonly WorkKind[];
  readonly day: Day;
  readonly risk: HitRisk;
  readonly wear: WearRates;
  readonly book: OutcomeBook;
}

/** What this station may need at this visit, from the rules' answer to each finding that may come and the chance of each. */
export function stationNeed(question: NeedQuestion): StationNeed {
  const { model, works, profile } = question;
  const state = assessClearance(question.state, profile);
  const task = works.some((work) => work === 'yearly service' || work === 'carried-over service')
    ? 'yearly service'
    : 'check';
  const outcomes = question.book.outcomesOf(state, model, profile, task);
  const chances = liveChances(question, state);
  const missed = question.wear.missed[afterMisses(state.missesInARow)];
  const looked = sumOutcomes(state, outcomes, chances, missed, question.wear);
  return works.includes('replacement') ? orReplaced(looked, model, question.wear.replaced) : looked;
}

interface LiveChances {
  readonly at: readonly number[];
  readonly mean: number;
}

function liveChances({ risk, wear, day }: NeedQuestion, state: StationState): LiveChances {
  if (state.openHitOn !== null) {
    const holdsBait = state.slots.some(({ insert }) => insert === 'bait');
    const chance = !holdsBait
      ? wear.live.noBait
      : state.termiteFreeLooks === 0
        ? wear.live.onBaitAfterLive(day - (state.lastOpenedOn ?? day))
        : wear.live.onBaitAfterNone;
    return { at: [chance], mean: chance };
  }
  const found = risk.chanceOf(state.property, state.station, day);
  const spread = found?.spread ?? null;
  const mean = found?.chance ?? risk.commonRate?.estimate ?? 0;
  if (spread === null) return { at: [mean], mean };
  const at = NORMAL_NODES.map(({ at: node }) => {
    const here: HazardAt = { eta: spread.eta + spread.shared * node, standardError: spread.own };
    return meanChance(here);
  });
  return { at, mean };
}

/** A replacement is made at most visits that owe one; else the station is looked at once more. Nothing unusual is that it is made. */
function orReplaced(looked: StationNeed, model: StationModel, replaced: number): StationNeed {
  const uses = newStationUses(model, 1, 'set the replacement');
  const setNew: StepId = 'dig out and set a new housing';
  const steps = new Map([...looked.steps].map(([step, chance]) => [step, (1 - replaced) * chance]));
  return {
    ...looked,
    replaced,
    replacement: new Map(uses.map(({ part, count }) => [part, count])),
    usual: new Map(uses.map(({ part, count }) => [part, count])),
    reasons: [
      ...looked.reasons.map((one) => ({ ...one, expected: (1 - replaced) * one.expected, usual: 0 })),
      ...uses.map(({ part, step, count }) => ({ part, step, expected: replaced * count, usual: count })),
    ],
    steps: steps.set(setNew, (steps.get(setNew) ?? 0) + replaced),
  };
}

function sumOutcomes(
  state: StationState,
  outcomes: readonly Outcome[],
  chances: LiveChances,
  missed: number,
  wear: WearRates,
): StationNeed {
  const factors = wear.factorsOf(state.property, state.station);
  const housing = scaled(wear.housing, 'sound', factors.housing);
  const quietMonitor = scaled(wear.monitor.quiet, 'sound', factors.monitor);
  const parts = new Map<string, { live: number[]; quiet: number[] }>();
  const reasons = new Map<string, { part: string; step: LoadStep; expected: number; usual: number }>();
  const steps = new Map<StepId, number>();
  const usual = new Map<string, number>();
  for (const outcome of outcomes) {
    const isLive = outcome.termites === 'live on bait' || outcome.termites === 'live on monitor';
    const given = chanceGiven(outcome, isLive, wear, housing, quietMonitor);
    if (given === 0) continue;
    const chance = (1 - missed) * (isLive ? chances.mean : 1 - chances.mean) * given;
    const isUsual = isUsualFinding(outcome);
    for (const step of outcome.steps) steps.set(step, (steps.get(step) ?? 0) + chance);
    const counts = new Map<string, number>();
    for (const { part, count, step } of outcome.uses) {
      counts.set(part, (counts.get(part) ?? 0) + count);
      const key = `${part}\u0000${step}`;
      const reason = reasons.get(key) ?? { part, step, expected: 0, usual: 0 };
      reason.expected += chance * count;
      if (isUsual) reason.usual += count;
      reasons.set(key, reason);
    }
    for (const [part, count] of counts) {
      let known = parts.get(part);
      if (known === undefined) {
        known = { live: [0], quiet: [0] };
        parts.set(part, known);
      }
      const of = isLive ? known.live : known.quiet;
      of[count] = (of[count] ?? 0) + given;
      if (isUsual) usual.set(part, count);
    }
  }
  return {
    structure: state.structure,
    parts: new Map(
      [...parts].map(([part, { live, quiet }]) => [part, { live: whole(live), quiet: whole(quiet) }]),
    ),
    liveAt: chances.at,
    live: chances.mean,
    missed,
    replaced: 0,
    replacement: new Map(),
    usual,
    reasons: [...reasons.values()],
    steps,
  };
}

/** Chance of this finding among those with (or without) live termites. */
function chanceGiven(
  { termites, baitLeft, monitor, housing }: Outcome,
  isLive: boolean,
  wear: WearRates,
  housings: Shares<Outcome['housing']>,
  quietMonitor: Shares<Outcome['monitor']>,
): number {
  const ofTermites = isLive
    ? 1
    : baitLeft !== 'no bait'
      ? 1
      : termites === 'signs only'
        ? wear.signs
        : 1 - wear.signs;
  const bait = baitLeft === 'no bait' ? 1 : (isLive ? wear.baitLeft.feeding : wear.baitLeft.idle)[baitLeft];
  const ofMonitor = monitor === 'no monitor' ? 1 : (isLive ? wear.monitor.live : quietMonitor)[monitor];
  return ofTermites * bait * ofMonitor * housings[housing];
}

/** Nothing found but what a round is planned for: what is certain to be used. */
function isUsualFinding({ termites, baitLeft, monitor, housing }: Outcome): boolean {
  return (
    termites === 'none' &&
    (baitLeft === 'no bait' || baitLeft === 'full') &&
    (monitor === 'sound' || monitor === 'no monitor') &&
    housing === 'sound'
  );
}

/** The chance of anything but `good` times a factor, at most nine in ten; the rest is `good`. */
function scaled<K extends string>(shares: Shares<K>, good: NoInfer<K>, factor: number): Shares<K> {
  const bad = 1 - shares[good];
  const wanted = Math.min(0.9, bad * factor);
  const times = bad === 0 ? 0 : wanted / bad;
  const result: Record<K, number> = { ...shares };
  for (const key in shares) result[key] = key === good ? 1 - wanted : shares[key] * times;
  return result;
}

/** As counts that add to 1: what names no part uses none. */
function whole(chances: readonly number[]): Counts {
  const counts = Float64Array.from(chances, (chance) => chance ?? 0);
  let used = 0;
  for (let count = 1; count < counts.length; count += 1) used += counts[count] ?? 0;
  counts[0] = Math.max(0, 1 - used);
  return counts;
}
