import {
  type Counts,
  chanceOver,
  leastWithin,
  meanCount,
  mixCounts,
  NORMAL_NODES,
  sumOfCounts,
} from '@sillwatch/figures';
import {
  type LabelProfile,
  PARTS,
  type PropertyState,
  type StationModel,
  type StepId,
  type WorkKind,
} from '@sillwatch/trade';
import type { Day } from '@sillwatch/trade/units';
import { compareKeys } from '../figures/compareKeys.ts';
import type { HitRisk } from '../figures/hitRisk.ts';
import { createOutcomeBook, type LoadStep } from './outcomes.ts';
import { type StationNeed, stationNeed } from './stationNeed.ts';
import { type ToolNeed, toolsFor } from './tools.ts';
import type { WearRates } from './wear.ts';

/** A visit as far as the load asks: a station may stand in `works` more than once. */
export interface LoadVisit {
  readonly property: string;
  readonly day: Day;
  readonly works: readonly { readonly station: string; readonly work: WorkKind }[];
}

export interface LoadQuestion {
  /** of a round, a week, a branch: whatever one load is for */
  readonly visits: readonly LoadVisit[];
  readonly states: ReadonlyMap<string, PropertyState>;
  readonly profiles: Readonly<Record<string, LabelProfile>>;
  readonly models: Readonly<Record<string, StationModel>>;
  readonly risk: HitRisk;
  readonly wear: WearRates;
}

export interface LoadOptions {
  /** accepted chance of running out, each part on its own, such as 0.05 or 0.01 */
  readonly chance: number;
  /** names of parts, where the firm has its own */
  readonly names?: Readonly<Record<string, string>>;
}

export interface PartLoad {
  readonly part: string;
  readonly name: string;
  /** used where nothing unusual is found */
  readonly certain: number;
  /** pieces, on average */
  readonly expected: number;
  readonly take: number;
  /** chance that `take` is not enough, at most the chance accepted */
  readonly chanceShort: number;
  /** chance that 0, 1, 2, … are used */
  readonly counts: readonly number[];
  /** the most asked for first */
  readonly why: readonly PartReason[];
}

export interface PartReason {
  readonly step: LoadStep;
  readonly expected: number;
  /** of it, where nothing unusual is found */
  readonly certain: number;
  /** stations at which it may come */
  readonly stations: number;
}

export interface Load {
  readonly visits: number;
  readonly stations: number;
  readonly parts: readonly PartLoad[];
  /** chance that any part runs out is at most this */
  readonly chanceAnyShort: number;
  readonly tools: readonly ToolNeed[];
  /** expected number of stations with live termites, and of stations that cannot be opened */
  readonly expectedLive: number;
  readonly expectedMissed: number;
  /** works left out because their station, model or label profile is not in the book */
  readonly leftOut: readonly { readonly property: string; readonly station: string; readonly why: LeftOut }[];
}

export type LeftOut = 'no such property' | 'no such station' | 'no such model' | 'no label profile';

/**
 * What to carry so that the chance of running out of a part is at most the one accepted: each station's need with its own chances, summed
 * exactly; stations of one structure share what is not known of it. See docs/rules/load.md.
 */
export function loadFor(question: LoadQuestion, { chance, names = {} }: LoadOptions): Load {
  if (!(chance > 0 && chance < 1))
    throw new RangeError(`an accepted chance lies between 0 and 1, not at ${chance}`);
  const { needs, leftOut } = listNeeds(question);
  const groups = new Map<string, StationNeed[]>();
  const steps = new Map<StepId, number>();
  for (const { key, need } of needs) {
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [need]);
    else group.push(need);
    for (const [step, expected] of need.steps) steps.set(step, (steps.get(step) ?? 0) + expected);
  }
  const ids = [
    ...new Set(needs.flatMap(({ need }) => [...need.parts.keys(), ...need.replacement.keys()])),
  ].sort(compareKeys);
  const parts = ids.flatMap((part) => {
    const counts = sumOfCounts([...groups.values()].map((group) => groupCounts(group, part)));
    const all = needs.map(({ need }) => need);
    const one = partLoad(part, names[part] ?? PARTS[part] ?? part, counts, all, chance);
    return one.expected > 0 ? [one] : [];
  });
  return {
    visits: question.visits.length,
    stations: needs.length,
    parts,
    chanceAnyShort: Math.min(
      1,
      parts.reduce((sum, one) => sum + one.chanceShort, 0),
    ),
    tools: toolsFor(steps),
    expectedLive: needs.reduce(
      (sum, { need }) => sum + (1 - need.replaced) * (1 - need.missed) * need.live,
      0,
    ),
    expectedMissed: needs.reduce((sum, { need }) => sum + (1 - need.replaced) * need.missed, 0),
    leftOut,
  };
}

function listNeeds(question: LoadQuestion): {
  readonly needs: readonly { readonly key: string; readonly need: StationNeed }[];
  readonly leftOut: Load['leftOut'];
} {
  const { visits, states, profiles, models, risk, wear } = question;
  const book = createOutcomeBook();
  const needs: { key: string; need: StationNeed }[] = [];
  const leftOut: { property: string; station: string; why: LeftOut }[] = [];
  for (const { property, day, works } of visits) {
    const owner = states.get(property);
    const profile = profiles[owner?.body?.profile ?? ''];
    const stations = new Map(owner?.stations.map((one) => [one.station, one]));
    const byStation = new Map<string, WorkKind[]>();
    for (const { station, work } of works) {
      const known = byStation.get(station);
      if (known === undefined) byStation.set(station, [work]);
      else known.push(work);
    }
    for (const [station, kinds] of byStation) {
      const state = stations.get(station);
      const model = models[state?.model ?? ''];
      if (owner === undefined) leftOut.push({ property, station, why: 'no such property' });
      else if (profile === undefined) leftOut.push({ property, station, why: 'no label profile' });
      else if (state === undefined) leftOut.push({ property, station, why: 'no such station' });
      else if (model === undefined) leftOut.push({ property, station, why: 'no such model' });
      else {
        const need = stationNeed({ state, model, profile, works: kinds, day, risk, wear, book });
        needs.push({ key: `${property}\u0000${state.structure}`, need });
      }
    }
  }
  return { needs, leftOut };
}

/** Of the stations of one structure: for each node of what they share a sum of independent needs, then the mixture. */
function groupCounts(group: readonly StationNeed[], part: string): Counts {
  const using = group.filter(({ parts, replacement }) => parts.has(part) || replacement.has(part));
  const nodes = Math.max(1, ...using.map(({ liveAt }) => liveAt.length));
  const at = (node: number): Counts =>
    sumOfCounts(using.map((need) => needCounts(need, part, need.liveAt[node] ?? need.live)));
  if (nodes === 1) return at(0);
  return mixCounts(NORMAL_NODES.map(({ weight }, node) => ({ weight, counts: at(node) })));
}

function needCounts(need: StationNeed, part: string, live: number): Counts {
  const { missed, replaced, replacement } = need;
  const { live: ifLive = NONE, quiet = NONE } = need.parts.get(part) ?? {};
  const looked = 1 - replaced;
  const ifReplaced = new Float64Array((replacement.get(part) ?? 0) + 1);
  ifReplaced[ifReplaced.length - 1] = 1;
  return mixCounts([
    { weight: looked * (1 - missed) * live, counts: ifLive },
    { weight: looked * (1 - missed) * (1 - live), counts: quiet },
    { weight: looked * missed, counts: NONE },
    { weight: replaced, counts: ifReplaced },
  ]);
}

/** Certainly none. */
const NONE: Counts = Float64Array.of(1);

function partLoad(
  part: string,
  name: string,
  counts: Counts,
  needs: readonly StationNeed[],
  chance: number,
): PartLoad {
  const take = leastWithin(chance, counts);
  const reasons = new Map<
    LoadStep,
    { step: LoadStep; expected: number; certain: number; stations: number }
  >();
  for (const need of needs) {
    for (const one of need.reasons) {
      if (one.part !== part || one.expected === 0) continue;
      const known = reasons.get(one.step) ?? { step: one.step, expected: 0, certain: 0, stations: 0 };
      known.expected += one.expected;
      known.certain += one.usual;
      known.stations += 1;
      reasons.set(one.step, known);
    }
  }
  return {
    part,
    name,
    certain: needs.reduce((sum, { usual }) => sum + (usual.get(part) ?? 0), 0),
    expected: meanCount(counts),
    take,
    chanceShort: chanceOver(counts, take),
    counts: [...counts],
    why: [...reasons.values()].sort((a, b) => b.expected - a.expected),
  };
}
