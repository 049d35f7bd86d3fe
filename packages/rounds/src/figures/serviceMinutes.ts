import { type Credibility, credibility, flagOutliers, median, type Weighed } from '@sillwatch/figures';
import type { WorkKind } from '@sillwatch/trade';
import { compareKeys } from './compareKeys.ts';
import type { Look, PropertyHistory } from './history.ts';

/** Work at a station, as far as its minutes differ. */
export const MINUTE_CLASSES = ['check', 'baited check', 'yearly service', 'replacement'] as const;
export type MinuteClass = (typeof MINUTE_CLASSES)[number];

export interface Minutes {
  readonly mean: number;
  /** nine visits in ten take between */
  readonly interval: { readonly lower: number; readonly upper: number };
  /** whose records it leans on most: this property's own, the branch's, or only what was assumed before any record */
  readonly from: 'own' | 'branch' | 'prior';
}

/** What is assumed while there are no records. Minutes; common practice, no source. */
export interface MinutePriors {
  readonly perStation: Readonly<Record<MinuteClass, number>>;
  /** arriving, walking round, talking with the customer, paperwork */
  readonly perVisit: number;
  /** how many records the assumption counts for */
  readonly worthStations: number;
  readonly worthVisits: number;
}

export const MINUTE_PRIORS: MinutePriors = {
  perStation: { check: 2, 'baited check': 3, 'yearly service': 5, replacement: 12 },
  perVisit: 8,
  worthStations: 10,
  worthVisits: 3,
};

/** A record of minutes that is far from the others of its class: worth a look, and left out of the estimate. */
export interface OddMinutes {
  readonly property: string;
  readonly visit: string;
  /** null = the visit's minutes outside its stations */
  readonly station: string | null;
  readonly minutes: number;
  readonly usual: number;
}

export interface ServiceMinutes {
  /**
   * Minutes of a visit that does these works, the visit's own share included (0 works: that share alone).
   * Unknown or absent property and technician count as the branch's average.
   */
  minutesFor(works: readonly WorkKind[], property?: string, technician?: string): Minutes;
  readonly perStation: Readonly<Record<MinuteClass, { readonly mean: number; readonly records: number }>>;
  readonly perVisit: { readonly mean: number; readonly records: number };
  /** factors on the minutes at stations, drawn towards 1 */
  readonly byProperty: Readonly<Record<string, MinuteFactor>>;
  readonly byTechnician: Readonly<Record<string, MinuteFactor>>;
  readonly odd: readonly OddMinutes[];
}

export interface MinuteFactor {
  readonly factor: number;
  /** share of the own record in it, 0 to 1 */
  readonly credibility: number;
  readonly visits: number;
}

/** The class whose minutes a due work takes; at a station with bait or an open hit say `baited check`. */
export function minuteClassOf(work: WorkKind): MinuteClass {
  switch (work) {
    case 'first check':
    case 'check':
    case 'missed station':
      return 'check';
    case 'baited check':
      return 'baited check';
    case 'yearly service':
    case 'carried-over service':
      return 'yearly service';
    case 'replacement':
      return 'replacement';
  }
}

/**
 * Learns minutes of service from a branch's records: a mean a class of work, started at the priors; factors a property
 * and a technician by credibility (`credibility`), so that few records move little; and the visit's own share. Records far off the
 * others are flagged and left out. Looks that failed and records without minutes are passed over.
 */
export function estimateServiceMinutes(
  histories: readonly PropertyHistory[],
  priors: MinutePriors = MINUTE_PRIORS,
): ServiceMinutes {
  const { kept, odd } = readRecords(histories);
  const perStation = classMeans(kept, priors);
  const ratios = visitRatios(kept, perStation);
  const byProperty = factorsOf(
    ratios,
    (one) => one.property,
    () => 1,
  );
  const propertyFactor = (property: string): number => byProperty.factors[property]?.factor ?? 1;
  const byTechnician = factorsOf(
    ratios,
    (one) => one.technician,
    (one) => propertyFactor(one.property),
  );
  const visits = visitShares(histories, kept);
  const perVisit = shareMean(visits.minutes, priors);
  const within = byProperty.within ?? 0.3 * perStation.check.mean;
  return {
    perStation,
    perVisit: perVisit.of,
    byProperty: byProperty.factors,
    byTechnician: byTechnician.factors,
    odd: [...odd, ...visits.odd],
    minutesFor(works, property, technician) {
      const expected = works.reduce((sum, work) => sum + perStation[minuteClassOf(work)].mean, 0);
      const own = property === undefined ? undefined : byProperty.factors[property];
      const person = technician === undefined ? undefined : byTechnician.factors[technician];
      const mean = expected * (own?.factor ?? 1) * (person?.factor ?? 1) + perVisit.of.mean;
      const unknown =
        byProperty.between * (1 - (own?.credibility ?? 0)) +
        byTechnician.between * (1 - (person?.credibility ?? 0));
      const variance = expected * within + expected * expected * unknown + perVisit.variance;
      const reach = NINE_IN_TEN * Math.sqrt(variance);
      const hasRecords = works.some((work) => perStation[minuteClassOf(work)].records > 0);
      return {
        mean,
        interval: { lower: Math.max(0, mean - reach), upper: mean + reach },
        from:
          (own?.credibility ?? 0) >= 0.5
            ? 'own'
            : hasRecords || (works.length === 0 && perVisit.of.records > 0)
              ? 'branch'
              : 'prior',
      };
    },
  };
}

/** Normal quantile at 0.95. */
const NINE_IN_TEN = 1.644_854;

interface Minuted {
  readonly property: string;
  readonly visit: string;
  readonly station: string;
  readonly technician: string;
  readonly of: MinuteClass;
  readonly minutes: number;
}

/** The record as it is learned from: yearly service where it was done, a baited check where bait or a hit was seen. */
export function minuteClassOfLook({ body }: Look): MinuteClass | null {
  const { finding, work } = body;
  if (finding.reach !== 'opened') return null;
  if (work.yearlyServiceDone) return 'yearly service';
  return finding.baitLeft !== 'no bait' || finding.termites === 'live on monitor' ? 'baited check' : 'check';
}

function readRecords(histories: readonly PropertyHistory[]): {
  kept: readonly Minuted[];
  odd: readonly OddMinutes[];
} {
  const byClass = new Map<MinuteClass, Minuted[]>(MINUTE_CLASSES.map((of) => [of, []]));
  for (const { property, looks } of histories) {
    for (const look of looks) {
      const of = minuteClassOfLook(look);
      const { minutes } = look.body.work;
      if (of === null || minutes === null || !(minutes > 0)) continue;
      byClass
        .get(of)
        ?.push({ property, visit: look.body.visit, station: look.station, technician: look.by, of, minutes });
    }
  }
  const kept: Minuted[] = [];
  const odd: OddMinutes[] = [];
  for (const records of byClass.values()) {
    const flags = flagFarOff(records);
    const sound = records.filter((_, index) => flags[index] !== true);
    const usual = sound.reduce((sum, { minutes }) => sum + minutes, 0) / Math.max(1, sound.length);
    records.forEach((record, index) => {
      const { property, visit, station, minutes } = record;
      if (flags[index] === true) odd.push({ property, visit, station, minutes, usual });
      else kept.push(record);
    });
  }
  return { kept, odd };
}

/**
 * Far off what is usual at its own property (there are slow yards), in times rather than minutes because minutes are
 * skewed to the right: an outlier among its class, and at least three times as long or as short.
 */
function flagFarOff(records: readonly Minuted[]): readonly boolean[] {
  const byProperty = new Map<string, number[]>();
  for (const { property, minutes } of records) {
    const known = byProperty.get(property);
    if (known === undefined) byProperty.set(property, [minutes]);
    else known.push(minutes);
  }
  const ofAll = records.length === 0 ? 1 : median(records.map(({ minutes }) => minutes));
  const usual = new Map<string, number>();
  for (const [property, minutes] of byProperty)
    usual.set(property, minutes.length < 5 ? ofAll : median(minutes));
  const times = records.map(({ property, minutes }) => Math.log(minutes / (usual.get(property) ?? ofAll)));
  const flags = flagOutliers(times);
  return times.map((log, index) => flags[index] === true && Math.abs(log) >= Math.log(3));
}

function classMeans(records: readonly Minuted[], priors: MinutePriors): ServiceMinutes['perStation'] {
  const of = (wanted: MinuteClass): { mean: number; records: number } => {
    let sum = priors.perStation[wanted] * priors.worthStations;
    let count = 0;
    for (const record of records) {
      if (record.of !== wanted) continue;
      sum += record.minutes;
      count += 1;
    }
    return { mean: sum / (count + priors.worthStations), records: count };
  };
  return {
    check: of('check'),
    'baited check': of('baited check'),
    'yearly service': of('yearly service'),
    replacement: of('replacement'),
  };
}

/** One visit of one technician: minutes at its stations over those that the means of their classes add to. */
interface VisitRatio {
  readonly property: string;
  readonly technician: string;
  readonly expected: number;
  readonly ratio: number;
}

function visitRatios(
  records: readonly Minuted[],
  means: ServiceMinutes['perStation'],
): readonly VisitRatio[] {
  const visits = new Map<string, { property: string; technician: string; expected: number; spent: number }>();
  for (const { property, visit, technician, of, minutes } of records) {
    const key = `${property}\u0000${visit}\u0000${technician}`;
    const known = visits.get(key) ?? { property, technician, expected: 0, spent: 0 };
    known.expected += means[of].mean;
    known.spent += minutes;
    visits.set(key, known);
  }
  return [...visits.values()].map(({ property, technician, expected, spent }) => ({
    property,
    technician,
    expected,
    ratio: spent / expected,
  }));
}

function factorsOf(
  ratios: readonly VisitRatio[],
  groupOf: (one: VisitRatio) => string,
  takenOut: (one: VisitRatio) => number,
): {
  readonly factors: Readonly<Record<string, MinuteFactor>>;
  readonly within: number | null;
  readonly between: number;
} {
  const groups = new Map<string, Weighed[]>();
  for (const one of ratios) {
    const factor = takenOut(one);
    const weighed = { value: one.ratio / factor, weight: one.expected * factor };
    const known = groups.get(groupOf(one));
    if (known === undefined) groups.set(groupOf(one), [weighed]);
    else known.push(weighed);
  }
  const ordered = [...groups].sort(([a], [b]) => compareKeys(a, b));
  const found: Credibility | undefined = credibility(ordered.map(([, group]) => group));
  if (found === undefined) return { factors: {}, within: null, between: 0 };
  const factors: Record<string, MinuteFactor> = {};
  ordered.forEach(([key, group], index) => {
    const one = found.groups[index];
    if (one === undefined) return;
    factors[key] = {
      factor: Math.max(0.1, one.estimate),
      credibility: one.credibility,
      visits: group.length,
    };
  });
  return { factors, within: found.within, between: found.between };
}

/** Minutes of each visit that its stations do not account for. */
function visitShares(
  histories: readonly PropertyHistory[],
  kept: readonly Minuted[],
): { readonly minutes: readonly number[]; readonly odd: readonly OddMinutes[] } {
  const atStations = new Map<string, number>();
  const key = (property: string, visit: string): string => `${property}\u0000${visit}`;
  for (const { property, visit, minutes } of kept)
    atStations.set(key(property, visit), (atStations.get(key(property, visit)) ?? 0) + minutes);
  const shares: { property: string; visit: string; minutes: number }[] = [];
  for (const { property, visits } of histories) {
    for (const { visit, minutes } of visits) {
      const stations = atStations.get(key(property, visit));
      if (minutes !== null && stations !== undefined)
        shares.push({ property, visit, minutes: Math.max(0, minutes - stations) });
    }
  }
  const flags = flagOutliers(shares.map(({ minutes }) => Math.log1p(minutes)));
  const sound = shares.filter((_, index) => flags[index] !== true).map(({ minutes }) => minutes);
  const usual = sound.reduce((sum, minutes) => sum + minutes, 0) / Math.max(1, sound.length);
  return {
    minutes: sound,
    odd: shares
      .filter((_, index) => flags[index] === true)
      .map((share) => ({ ...share, station: null, usual })),
  };
}

function shareMean(
  minutes: readonly number[],
  priors: MinutePriors,
): { readonly of: { readonly mean: number; readonly records: number }; readonly variance: number } {
  const sum = minutes.reduce((total, one) => total + one, priors.perVisit * priors.worthVisits);
  const mean = sum / (minutes.length + priors.worthVisits);
  // The prior's spread: half its own mean.
  const squares = minutes.reduce(
    (total, one) => total + (one - mean) ** 2,
    priors.worthVisits * (priors.perVisit / 2) ** 2,
  );
  return { of: { mean, records: minutes.length }, variance: squares / (minutes.length + priors.worthVisits) };
}
