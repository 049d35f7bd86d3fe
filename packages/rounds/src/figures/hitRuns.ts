import type { Day } from '@sillwatch/trade/units';
import type { Look, PropertyHistory } from './history.ts';
import type { FigureSubject } from './riskColumns.ts';

/** One hit from its finding to its clearance, at a station or a whole structure. */
export interface HitRun {
  readonly property: string;
  readonly structure: string;
  /** null = the structure's runs, as far as they overlap, taken together */
  readonly station: string | null;
  readonly hitOn: Day;
  /** first bait after the hit; null = none yet */
  readonly baitedOn: Day | null;
  /** day of the look that completed the profile's run of termite-free looks; null = not clear when last seen */
  readonly clearedOn: Day | null;
  readonly lastLookOn: Day;
}

/** The time that one station (or structure) has been watched for a first hit. */
export interface Watch {
  readonly property: string;
  readonly structure: string;
  readonly station: string | null;
  readonly installedOn: Day;
  readonly firstHitOn: Day | null;
  /** null = never opened */
  readonly lastLookOn: Day | null;
}

interface Draft {
  hitOn: Day | null;
  baitedOn: Day | null;
  free: number;
  lastLookOn: Day;
}

/** Each station's runs, in the order of their hits. A hit that comes after clearance opens a new run. */
export function stationRuns({ history, state, profile }: FigureSubject): readonly HitRun[] {
  const structureOf = new Map(state.stations.map(({ station, structure }) => [station, structure]));
  const runs: HitRun[] = [];
  const drafts = new Map<string, Draft>();
  const { property } = history;
  const close = (station: string, draft: Draft, clearedOn: Day | null): void => {
    const { hitOn, baitedOn, lastLookOn } = draft;
    if (hitOn === null) return;
    runs.push({
      property,
      structure: structureOf.get(station) ?? '',
      station,
      hitOn,
      baitedOn,
      clearedOn,
      lastLookOn,
    });
    draft.hitOn = null;
    draft.baitedOn = null;
    draft.free = 0;
  };
  for (const { station, day, body } of history.looks) {
    const { finding, work } = body;
    if (finding.reach !== 'opened') continue;
    let draft = drafts.get(station);
    if (draft === undefined) {
      draft = { hitOn: null, baitedOn: null, free: 0, lastLookOn: day };
      drafts.set(station, draft);
    }
    draft.lastLookOn = day;
    const isLive = finding.termites === 'live on monitor' || finding.termites === 'live on bait';
    if (isLive) {
      draft.hitOn ??= day;
      draft.free = 0;
      const isBaited =
        finding.termites === 'live on bait' || work.fitted.some(({ insert }) => insert === 'bait');
      if (isBaited) draft.baitedOn ??= day;
      continue;
    }
    if (draft.hitOn === null) continue;
    if (work.fitted.some(({ insert }) => insert === 'bait')) draft.baitedOn ??= day;
    draft.free += 1;
    if (draft.free >= profile.clearAfterChecks.value) close(station, draft, day);
  }
  for (const [station, draft] of drafts) close(station, draft, null);
  return runs.sort((a, b) => a.hitOn - b.hitOn);
}

/** Runs of whole structures: from the first hit until no station of it has one open. Stations that share a colony count once. */
export function structureRuns(runs: readonly HitRun[]): readonly HitRun[] {
  const byStructure = new Map<string, HitRun[]>();
  for (const run of runs) {
    const key = `${run.property}\u0000${run.structure}`;
    const known = byStructure.get(key);
    if (known === undefined) byStructure.set(key, [run]);
    else known.push(run);
  }
  const merged: HitRun[] = [];
  for (const own of byStructure.values()) {
    own.sort((a, b) => a.hitOn - b.hitOn);
    let current: HitRun | undefined;
    for (const run of own) {
      if (current !== undefined && (current.clearedOn === null || run.hitOn <= current.clearedOn)) {
        current = join(current, run);
        continue;
      }
      if (current !== undefined) merged.push(current);
      current = { ...run, station: null };
    }
    if (current !== undefined) merged.push(current);
  }
  return merged;
}

function join(a: HitRun, b: HitRun): HitRun {
  const baited = [a.baitedOn, b.baitedOn].filter((day) => day !== null).sort((x, y) => x - y);
  return {
    ...a,
    baitedOn: baited[0] ?? null,
    clearedOn: a.clearedOn === null || b.clearedOn === null ? null : later(a.clearedOn, b.clearedOn),
    lastLookOn: later(a.lastLookOn, b.lastLookOn),
  };
}

function later(a: Day, b: Day): Day {
  return a > b ? a : b;
}

/** How long each station was watched from its first installation. Stations set beside a hit are left out: they were set because of one. */
export function stationWatches({ history, state }: FigureSubject): readonly Watch[] {
  const installedOn = firstInstalled(history);
  const looks = new Map<string, Look[]>();
  for (const look of history.looks) {
    const own = looks.get(look.station);
    if (own === undefined) looks.set(look.station, [look]);
    else own.push(look);
  }
  return state.stations.flatMap(({ station, structure, auxiliary }) => {
    const day = installedOn.get(station);
    if (day === undefined || auxiliary) return [];
    let firstHitOn: Day | null = null;
    let lastLookOn: Day | null = null;
    for (const look of looks.get(station) ?? []) {
      const { finding } = look.body;
      if (finding.reach !== 'opened') continue;
      lastLookOn = look.day;
      if (finding.termites === 'live on monitor' || finding.termites === 'live on bait')
        firstHitOn ??= look.day;
    }
    return [{ property: history.property, structure, station, installedOn: day, firstHitOn, lastLookOn }];
  });
}

/** As stationWatches, a structure each: from its first station to the first hit at any. */
export function structureWatches(watches: readonly Watch[]): readonly Watch[] {
  const byStructure = new Map<string, Watch>();
  for (const watch of watches) {
    const key = `${watch.property}\u0000${watch.structure}`;
    const known = byStructure.get(key);
    byStructure.set(key, known === undefined ? { ...watch, station: null } : joinWatch(known, watch));
  }
  return [...byStructure.values()];
}

function joinWatch(a: Watch, b: Watch): Watch {
  const first = (x: Day | null, y: Day | null): Day | null =>
    x === null ? y : y === null ? x : x < y ? x : y;
  const last = (x: Day | null, y: Day | null): Day | null => (x === null ? y : y === null ? x : later(x, y));
  return {
    ...a,
    installedOn: first(a.installedOn, b.installedOn) ?? a.installedOn,
    firstHitOn: first(a.firstHitOn, b.firstHitOn),
    lastLookOn: last(a.lastLookOn, b.lastLookOn),
  };
}

function firstInstalled(history: PropertyHistory): ReadonlyMap<string, Day> {
  const days = new Map<string, Day>();
  for (const { station, day } of history.installations) if (!days.has(station)) days.set(station, day);
  return days;
}
