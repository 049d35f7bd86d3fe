import { binomialLimits, designEffect, exactBinomial, type Interval, type Limits } from '@sillwatch/figures';
import { compareKeys } from './compareKeys.ts';
import { type Sentence, sentence } from './sentences.ts';

/** Events of trials of one technician (or branch) at one property. */
export interface FunnelCase {
  readonly key: string;
  readonly property: string;
  readonly events: number;
  readonly trials: number;
}

export interface FunnelPoint {
  readonly key: string;
  readonly events: number;
  readonly trials: number;
  readonly share: Interval;
  readonly inside95: Limits;
  readonly inside998: Limits;
  readonly standing: 'as the rest' | 'beyond 95 %' | 'beyond 99.8 %' | 'too little to say';
}

export interface Funnel {
  /** share of all together: the line in the middle; null = no trial */
  readonly target: number | null;
  /** trials counted for one, because those of one property hang together */
  readonly designEffect: number;
  readonly points: readonly FunnelPoint[];
  /** limits along the plot */
  readonly lines: readonly {
    readonly trials: number;
    readonly inside95: Limits;
    readonly inside998: Limits;
  }[];
  readonly says: Sentence;
}

/** Where fewer than this many events are expected of one, nothing is said of it. */
const LEAST_EXPECTED = 2;

/**
 * Technicians or branches against what all do together, with the limits inside which chance alone puts nearly all of them (Spiegelhalter 2005). Limits
 * are widened for properties whose cases hang together, so that noise (and hard yards) are not taken for merit or fault.
 */
export function funnelOf(cases: readonly FunnelCase[]): Funnel {
  const byKey = new Map<string, { events: number; trials: number }>();
  const byProperty = new Map<string, { events: number; trials: number }>();
  const add = (map: typeof byKey, key: string, { events, trials }: FunnelCase): void => {
    const known = map.get(key) ?? { events: 0, trials: 0 };
    known.events += events;
    known.trials += trials;
    map.set(key, known);
  };
  for (const one of cases) {
    add(byKey, one.key, one);
    add(byProperty, one.property, one);
  }
  const all = [...byKey.values()].reduce(
    (sum, one) => ({ events: sum.events + one.events, trials: sum.trials + one.trials }),
    { events: 0, trials: 0 },
  );
  if (all.trials === 0) return { target: null, designEffect: 1, points: [], lines: [], says: tooFew(0) };
  const target = all.events / all.trials;
  const effect = designEffect([...byProperty.values()]);
  const limits = (trials: number, inside: number): Limits => binomialLimits(target, trials / effect, inside);
  const points = [...byKey]
    .sort(([a], [b]) => compareKeys(a, b))
    .flatMap(([key, { events, trials }]) => {
      const share = exactBinomial(events, trials, 0.95);
      if (share === undefined) return [];
      const inside95 = limits(trials, 0.95);
      const inside998 = limits(trials, 0.998);
      return [
        {
          key,
          events,
          trials,
          share,
          inside95,
          inside998,
          standing: standingOf(share.estimate, target, trials, inside95, inside998),
        },
      ];
    });
  const heard = points.filter(({ standing }) => standing !== 'too little to say');
  return {
    target,
    designEffect: effect,
    points,
    lines: alongPlot(points).map((trials) => ({
      trials,
      inside95: limits(trials, 0.95),
      inside998: limits(trials, 0.998),
    })),
    says: sayFunnel(points.length, heard),
  };
}

/** Nobody stands apart from the rest where there is no rest: two at least of whom something can be said. */
function sayFunnel(points: number, heard: readonly FunnelPoint[]): Sentence {
  if (heard.length < 2) return tooFew(points);
  const outside = heard.filter(({ standing }) => standing === 'beyond 99.8 %').length;
  if (outside > 0) return sentence('funnel outside', { points: heard.length, outside });
  const edge = heard.filter(({ standing }) => standing === 'beyond 95 %').length;
  return edge === 0
    ? sentence('funnel inside', { points: heard.length })
    : sentence('funnel edge', { points: heard.length, edge });
}

function tooFew(points: number): Sentence {
  return sentence('funnel too few', { points });
}

function standingOf(
  share: number,
  target: number,
  trials: number,
  inside95: Limits,
  inside998: Limits,
): FunnelPoint['standing'] {
  if (Math.min(target, 1 - target) * trials < LEAST_EXPECTED) return 'too little to say';
  if (share < inside998.lower || share > inside998.upper) return 'beyond 99.8 %';
  return share < inside95.lower || share > inside95.upper ? 'beyond 95 %' : 'as the rest';
}

function alongPlot(points: readonly FunnelPoint[]): readonly number[] {
  const most = points.reduce((high, { trials }) => Math.max(high, trials), 0);
  return Array.from({ length: 24 }, (_, at) => (most * 1.1 * (at + 1)) / 24).filter((trials) => trials >= 1);
}
