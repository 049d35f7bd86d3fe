import { credibility, leavingRate } from '@sillwatch/figures';
import {
  BAIT_LEFT,
  type BaitLeft,
  HOUSING_CONDITIONS,
  type HousingCondition,
  type LabelProfile,
  MONITOR_CONDITIONS,
  type MonitorCondition,
  type OpenedFinding,
} from '@sillwatch/trade';
import type { Day } from '@sillwatch/trade/units';
import type { FigureSubject } from '../figures/riskColumns.ts';

/** How far a property and a station differ from the firm's usual, as factors on the chance of anything but sound. */
export interface WearFactors {
  readonly monitor: number;
  readonly housing: number;
}

/** What a firm's looks say of all but hits: how often stations cannot be opened, what bait, monitors and housings are like. */
export interface WearRates {
  /** chance that a station cannot be opened: after a look that opened it, after one that did not, after several in a row that did not */
  readonly missed: {
    readonly afterOpened: number;
    readonly afterMissed: number;
    readonly afterSeveral: number;
  };
  /** chance that a replacement that is owed is made at the visit */
  readonly replaced: number;
  /** chance of signs without live termites, where no termites are found */
  readonly signs: number;
  /** chance of live termites while a hit is open */
  readonly live: {
    /** found live at the look so many days before: the longer ago, the more have left since */
    readonly onBaitAfterLive: (days: number) => number;
    readonly onBaitAfterNone: number;
    readonly noBait: number;
  };
  readonly baitLeft: { readonly feeding: Shares<BaitLeft>; readonly idle: Shares<BaitLeft> };
  readonly monitor: { readonly live: Shares<MonitorCondition>; readonly quiet: Shares<MonitorCondition> };
  readonly housing: Shares<HousingCondition>;
  readonly looks: number;
  factorsOf(property: string, station: string): WearFactors;
}

export type Shares<K extends string> = Readonly<Record<K, number>>;

/** What stands in for a record while there is none, as counted looks. Common practice, no source. */
const BEFORE = {
  missed: { afterOpened: [0.3, 30], afterMissed: [1.5, 3], afterSeveral: [2.5, 3] },
  replaced: [9, 10],
  signs: [0.2, 20],
  feedingOn: { days: 45, stayed: 2, left: 1 },
  live: { onBaitAfterNone: [0.3, 3], noBait: [2, 3] },
  feeding: { 'no bait': 0, full: 0.2, 'three quarters': 1, half: 1, 'a quarter': 1, gone: 0.5 },
  idle: { 'no bait': 0, full: 1.5, 'three quarters': 1, half: 0.6, 'a quarter': 0.2, gone: 0.1 },
  monitorLive: { sound: 0.5, eaten: 4, rotten: 0.2, swollen: 0.1, missing: 0.1, 'no monitor': 0 },
  monitorQuiet: { sound: 18, eaten: 0.2, rotten: 0.8, swollen: 0.4, missing: 0.2, 'no monitor': 0 },
  housing: { sound: 18, 'cap damaged': 0.4, loose: 0.3, flooded: 0.3, 'filled with soil': 0.3, broken: 0.1 },
} as const;

/** Counts the firm's looks up to and including `asOf`. */
export function learnWear(subjects: readonly FigureSubject[], asOf: Day): WearRates {
  const tally = openTally();
  for (const { history, profile } of subjects) {
    const before = new Map<string, Before>();
    const owesReplacement = (station: string): boolean =>
      (before.get(station)?.misses ?? 0) >= profile.missesBeforeReplacement.value;
    const replacements = history.installations.filter(({ body }) => body === null);
    let replaced = 0;
    const takeReplacements = (to: Day): void => {
      for (
        let next = replacements[replaced];
        next !== undefined && next.day <= to;
        next = replacements[replaced]
      ) {
        if (owesReplacement(next.station)) add(tally.replaced, true);
        before.delete(next.station);
        replaced += 1;
      }
    };
    for (const { station, day, body } of history.looks) {
      if (day > asOf) continue;
      takeReplacements(day);
      if (owesReplacement(station)) add(tally.replaced, false);
      const old = before.get(station) ?? NEVER_SEEN;
      before.set(
        station,
        countLook(tally, old, { property: history.property, station, day }, body.finding, profile),
      );
    }
    takeReplacements(asOf);
  }
  const factors = factorsOf(tally);
  const leaving = leavingRate([BEFORE.feedingOn, ...tally.feedingOn.values()]);
  return {
    missed: {
      afterOpened: share(tally.missed.afterOpened),
      afterMissed: share(tally.missed.afterMissed),
      afterSeveral: share(tally.missed.afterSeveral),
    },
    replaced: share(tally.replaced),
    signs: share(tally.signs),
    live: {
      onBaitAfterLive: (days) => Math.exp(-leaving * Math.max(1, days)),
      onBaitAfterNone: share(tally.live.onBaitAfterNone),
      noBait: share(tally.live.noBait),
    },
    baitLeft: { feeding: toShares(BAIT_LEFT, tally.feeding), idle: toShares(BAIT_LEFT, tally.idle) },
    monitor: {
      live: toShares(MONITOR_CONDITIONS, tally.monitorLive),
      quiet: toShares(MONITOR_CONDITIONS, tally.monitorQuiet),
    },
    housing: toShares(HOUSING_CONDITIONS, tally.housing),
    looks: tally.looks,
    factorsOf: factors,
  };
}

interface Before {
  /** looks in a row that could not open it */
  readonly misses: number;
  readonly live: boolean;
  /** day of the last look that opened it */
  readonly openedOn: Day | null;
  /** a hit is open */
  readonly open: boolean;
  readonly free: number;
}

const NEVER_SEEN: Before = { misses: 0, openedOn: null, live: false, open: false, free: 0 };

interface Yes {
  yes: number;
  all: number;
}

interface Condition {
  bad: number;
  all: number;
}

interface Tally {
  looks: number;
  readonly missed: { readonly afterOpened: Yes; readonly afterMissed: Yes; readonly afterSeveral: Yes };
  readonly replaced: Yes;
  readonly signs: Yes;
  readonly live: { readonly onBaitAfterNone: Yes; readonly noBait: Yes };
  /** by days since the look before, which found them live on bait or was the hit */
  readonly feedingOn: Map<number, { readonly days: number; stayed: number; left: number }>;
  readonly feeding: Map<string, number>;
  readonly idle: Map<string, number>;
  readonly monitorLive: Map<string, number>;
  readonly monitorQuiet: Map<string, number>;
  readonly housing: Map<string, number>;
  /** by property, then by station: looks and those at which the monitor (the housing) was not sound */
  readonly monitors: Map<string, Map<string, Condition>>;
  readonly housings: Map<string, Map<string, Condition>>;
}

function openTally(): Tally {
  const yes = ([yesBefore, all]: readonly [number, number]): Yes => ({ yes: yesBefore, all });
  const { missed, replaced, signs, live } = BEFORE;
  return {
    looks: 0,
    missed: {
      afterOpened: yes(missed.afterOpened),
      afterMissed: yes(missed.afterMissed),
      afterSeveral: yes(missed.afterSeveral),
    },
    replaced: yes(replaced),
    signs: yes(signs),
    live: {
      onBaitAfterNone: yes(live.onBaitAfterNone),
      noBait: yes(live.noBait),
    },
    feedingOn: new Map(),
    feeding: new Map(Object.entries(BEFORE.feeding)),
    idle: new Map(Object.entries(BEFORE.idle)),
    monitorLive: new Map(Object.entries(BEFORE.monitorLive)),
    monitorQuiet: new Map(Object.entries(BEFORE.monitorQuiet)),
    housing: new Map(Object.entries(BEFORE.housing)),
    monitors: new Map(),
    housings: new Map(),
  };
}

function countLook(
  tally: Tally,
  old: Before,
  { property, station, day }: { readonly property: string; readonly station: string; readonly day: Day },
  finding: OpenedFinding | { readonly reach: 'not found' | 'blocked' },
  profile: LabelProfile,
): Before {
  tally.looks += 1;
  add(tally.missed[afterMisses(old.misses)], finding.reach !== 'opened');
  if (finding.reach !== 'opened') return { ...old, misses: old.misses + 1 };
  const isLive = finding.termites === 'live on bait' || finding.termites === 'live on monitor';
  const holdsBait = finding.baitLeft !== 'no bait' || finding.termites === 'live on bait';
  if (!isLive) add(tally.signs, finding.termites === 'signs only');
  if (old.open && holdsBait && old.live) countStay(tally.feedingOn, day - (old.openedOn ?? day), isLive);
  else if (old.open) add(holdsBait ? tally.live.onBaitAfterNone : tally.live.noBait, isLive);
  if (holdsBait && finding.baitLeft !== 'no bait')
    count(isLive ? tally.feeding : tally.idle, finding.baitLeft);
  if (finding.monitor !== 'no monitor') {
    count(isLive ? tally.monitorLive : tally.monitorQuiet, finding.monitor);
    if (!isLive) countCondition(tally.monitors, property, station, finding.monitor !== 'sound');
  }
  count(tally.housing, finding.housing);
  countCondition(tally.housings, property, station, finding.housing !== 'sound');
  const free = isLive ? 0 : old.free + 1;
  const open = isLive || (old.open && free < profile.clearAfterChecks.value);
  return { misses: 0, openedOn: day, live: isLive, open, free };
}

/** Which of the counts of missed looks speaks for a station that could not be opened so many times in a row. */
export function afterMisses(misses: number): keyof WearRates['missed'] {
  return misses === 0 ? 'afterOpened' : misses === 1 ? 'afterMissed' : 'afterSeveral';
}

function add(of: Yes, isYes: boolean): void {
  of.all += 1;
  if (isYes) of.yes += 1;
}

function countStay(stays: Tally['feedingOn'], since: number, isThere: boolean): void {
  const days = Math.max(1, since);
  const known = stays.get(days) ?? { days, stayed: 0, left: 0 };
  stays.set(days, known);
  if (isThere) known.stayed += 1;
  else known.left += 1;
}

function count(counts: Map<string, number>, key: string): void {
  counts.set(key, (counts.get(key) ?? 0) + 1);
}

function countCondition(all: Tally['monitors'], property: string, station: string, isBad: boolean): void {
  let own = all.get(property);
  if (own === undefined) {
    own = new Map();
    all.set(property, own);
  }
  const known = own.get(station) ?? { bad: 0, all: 0 };
  known.all += 1;
  if (isBad) known.bad += 1;
  own.set(station, known);
}

function share({ yes, all }: Yes): number {
  return yes / all;
}

function toShares<K extends string>(keys: readonly K[], counts: ReadonlyMap<string, number>): Shares<K> {
  let all = 0;
  for (const key of keys) all += counts.get(key) ?? 0;
  const shares: Partial<Record<K, number>> = {};
  for (const key of keys) shares[key] = (counts.get(key) ?? 0) / all;
  return { ...blank(keys), ...shares };
}

function blank<K extends string>(keys: readonly K[]): Record<K, number> {
  const isWhole = (record: Partial<Record<K, number>>): record is Record<K, number> =>
    keys.every((key) => record[key] !== undefined);
  const record: Partial<Record<K, number>> = {};
  for (const key of keys) record[key] = 0;
  if (!isWhole(record)) throw new Error('a key without a share');
  return record;
}

/** Wet yards swell monitors, and some stations more than others: factors by credibility, a property and a station within it. */
function factorsOf(tally: Tally): WearRates['factorsOf'] {
  const monitor = nestedFactors(tally.monitors);
  const housing = nestedFactors(tally.housings);
  return (property, station) => ({
    monitor: monitor(property, station),
    housing: housing(property, station),
  });
}

function nestedFactors(all: Tally['monitors']): (property: string, station: string) => number {
  let bad = 0;
  let looks = 0;
  for (const stations of all.values())
    for (const one of stations.values()) {
      bad += one.bad;
      looks += one.all;
    }
  if (bad === 0) return () => 1;
  const rate = bad / looks;
  const properties = [...all.keys()];
  const ofProperty = credibility(properties.map((property) => ratios(all.get(property), rate)));
  const factors = new Map(
    properties.map((property, at) => [property, atLeast(ofProperty?.groups[at]?.estimate)]),
  );
  const stations = properties.flatMap((property) =>
    [...(all.get(property) ?? [])].map(([station, one]) => ({
      key: `${property}\u0000${station}`,
      property,
      one,
    })),
  );
  // Looks of one station are its repeats; each look is a ratio of 0 or 1 over what its property lets expect.
  const ofStation = credibility(
    stations.map(({ property, one }) => repeats(one, rate * (factors.get(property) ?? 1))),
  );
  const own = new Map(stations.map(({ key }, at) => [key, atLeast(ofStation?.groups[at]?.estimate)]));
  return (property, station) => (factors.get(property) ?? 1) * (own.get(`${property}\u0000${station}`) ?? 1);
}

function ratios(
  stations: ReadonlyMap<string, Condition> | undefined,
  rate: number,
): { readonly value: number; readonly weight: number }[] {
  return [...(stations?.values() ?? [])].map((one) => ({
    value: one.bad / (one.all * rate),
    weight: one.all * rate,
  }));
}

function repeats(
  { bad, all }: Condition,
  expected: number,
): { readonly value: number; readonly weight: number }[] {
  return Array.from({ length: all }, (_, look) => ({
    value: look < bad ? 1 / expected : 0,
    weight: expected,
  }));
}

/** Factors stay away from nothing: what has never been seen to rot may yet. */
function atLeast(estimate: number | undefined): number {
  return Math.max(0.2, estimate ?? 1);
}
