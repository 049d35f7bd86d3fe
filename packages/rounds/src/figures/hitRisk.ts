import {
  type Calibration,
  calibrate,
  correctSpreads,
  exactBinomial,
  fitHazard,
  type HazardFit,
  type HazardRows,
  hazardAt,
  hazardChance,
  type Interval,
  type Promised,
  updateHazard,
} from '@sillwatch/figures';
import type { Day } from '@sillwatch/trade/units';
import {
  columnsAt,
  type FigureSubject,
  type PropertyRisk,
  RISK_COLUMNS,
  readRisk,
  type StationMemory,
} from './riskColumns.ts';

/** With fewer hits than this nothing but the common rate is said. */
export const LEAST_HITS = 10;

export interface HitChance {
  readonly chance: number;
  /** nine in ten */
  readonly lower: number;
  readonly upper: number;
  /** whose record it leans on: the station's own and its structure's, the structure's, the branch's, the firm's, or only the common rate */
  readonly from: 'station' | 'structure' | 'branch' | 'firm' | 'common rate';
  /**
   * On the scale of the model: what structure, branch and model leave unknown (shared by the stations of one structure), and what is the station's own.
   * null while there is too little to fit.
   */
  readonly spread: { readonly eta: number; readonly shared: number; readonly own: number } | null;
}

export interface HitRisk {
  readonly asOf: Day;
  readonly looks: number;
  readonly hits: number;
  /** null = too little to say more than the common rate */
  readonly fit: HazardFit | null;
  /** share of looks at which a hit was found, exact interval; null without a look */
  readonly commonRate: Interval | null;
  /** chance that a look on this day finds a hit; 0 where one is open already, undefined for a station that is not in the book */
  chanceOf(property: string, station: string, day: Day): HitChance | undefined;
  /** For the next fit, the next day and the load. */
  readonly memory: RiskMemory;
}

export interface RiskMemory {
  readonly properties: ReadonlyMap<string, PropertyRisk>;
  readonly branches: ReadonlyMap<string, string>;
  readonly nodes: readonly [
    ReadonlyMap<string, number>,
    ReadonlyMap<string, number>,
    ReadonlyMap<string, number>,
  ];
}

/** Normal priors of deviation 1 hold columns that the record says little of; the intercept is free. */
const RIDGE = RISK_COLUMNS.map((_, column) => (column === 0 ? 0 : 1));

/**
 * Learns the chance of a hit from the firm's looks up to and including `asOf`: logistic in RISK_COLUMNS, with effects of station within
 * structure within branch. An order of urgency and a load, never a reason to skip a due visit.
 */
export function fitHitRisk(subjects: readonly FigureSubject[], asOf: Day): HitRisk {
  const properties = new Map<string, PropertyRisk>();
  const branches = new Map<string, string>();
  for (const subject of subjects) {
    properties.set(subject.history.property, readRisk(until(subject, asOf)));
    branches.set(subject.history.property, subject.branch);
  }
  const nodes = numberNodes(properties, branches);
  const rows = collectRows([...properties], branches, nodes);
  const hits = rows.hit.reduce((sum, one) => sum + one, 0);
  const options = { effects: 'nested', ridge: RIDGE } as const;
  const fitted = hits < LEAST_HITS ? undefined : fitHazard(rows, options);
  const isFitted = fitted !== undefined && !('refused' in fitted);
  const fit = isFitted ? correctSpreads(rows, fitted, options, { seed: 1 }) : null;
  return riskOf(fit, { properties, branches, nodes }, asOf, rows.hit.length, hits);
}

/** The risk with the facts of some properties renewed: their looks up to `asOf` count, coefficients stay until the next fit. */
export function updateHitRisk(risk: HitRisk, changed: readonly FigureSubject[], asOf: Day): HitRisk {
  const properties = new Map(risk.memory.properties);
  const branches = new Map(risk.memory.branches);
  let { looks, hits } = risk;
  for (const subject of changed) {
    const { property } = subject.history;
    const old = properties.get(property);
    const renewed = readRisk(until(subject, asOf));
    looks += renewed.looks.length - (old?.looks.length ?? 0);
    hits += countHits(renewed) - (old === undefined ? 0 : countHits(old));
    properties.set(property, renewed);
    branches.set(property, subject.branch);
  }
  // A branch that the fit has never seen has no effect yet: its stations count as the firm's average until the next fit.
  const inFit = changed.flatMap(({ history: { property } }) => {
    const one = properties.get(property);
    const isKnown = risk.memory.nodes[2].has(branches.get(property) ?? '');
    return one === undefined || !isKnown ? [] : [[property, one] as const];
  });
  const nodes = numberNodes(new Map(inFit), branches, risk.memory.nodes);
  const memory = { properties, branches, nodes };
  if (risk.fit === null || inFit.length === 0) return riskOf(risk.fit, memory, asOf, looks, hits);
  const local = numberNodes(new Map(inFit), branches);
  const rows = collectRows(inFit, branches, local);
  const toFit = ([0, 1, 2] as const).map((level) =>
    [...local[level].keys()].map((key) => nodes[level].get(key) ?? 0),
  );
  return riskOf(updateHazard(risk.fit, rows, toFit), memory, asOf, looks, hits);
}

/** How true the chances were: fitted on looks up to `asOf`, held against the looks after it. Undefined where no look follows or too little precedes. */
export function calibrateHitRisk(subjects: readonly FigureSubject[], asOf: Day): Calibration | undefined {
  const risk = fitHitRisk(subjects, asOf);
  const { fit, memory } = risk;
  if (fit === null) return undefined;
  const promises: Promised[] = [];
  for (const subject of subjects) {
    const { property } = subject.history;
    const { looks, memories } = readRisk(subject);
    for (const look of looks) {
      const of = memories.get(look.station);
      if (look.day <= asOf || of === undefined) continue;
      const at = hazardAt(fit, look.columns, placeOf(memory, property, of));
      promises.push({ chance: hazardChance(at, 0.9).chance, happened: look.hit });
    }
  }
  return calibrate(promises, 8, 0.95);
}

function until(subject: FigureSubject, asOf: Day): FigureSubject {
  const { history } = subject;
  return {
    ...subject,
    history: {
      ...history,
      looks: history.looks.filter(({ day }) => day <= asOf),
      installations: history.installations.filter(({ day }) => day <= asOf),
    },
  };
}

function countHits({ looks }: PropertyRisk): number {
  return looks.reduce((sum, { hit }) => sum + (hit ? 1 : 0), 0);
}

type Nodes = RiskMemory['nodes'];

const keyOf = (property: string, id: string): string => `${property}\u0000${id}`;

function numberNodes(
  properties: ReadonlyMap<string, PropertyRisk>,
  branches: ReadonlyMap<string, string>,
  known?: Nodes,
): Nodes {
  const units = new Map(known?.[0]);
  const structures = new Map(known?.[1]);
  const tops = new Map(known?.[2]);
  const number = (map: Map<string, number>, key: string): void => {
    if (!map.has(key)) map.set(key, map.size);
  };
  for (const [property, { memories }] of properties) {
    number(tops, branches.get(property) ?? '');
    for (const { station, structure } of memories.values()) {
      number(structures, keyOf(property, structure));
      number(units, keyOf(property, station));
    }
  }
  return [units, structures, tops];
}

function collectRows(
  properties: readonly (readonly [string, PropertyRisk])[],
  branches: ReadonlyMap<string, string>,
  [units, structures, tops]: Nodes,
): HazardRows {
  const columns = RISK_COLUMNS.length;
  const counts = new Int32Array(units.size + 1);
  let total = 0;
  for (const [property, { looks }] of properties) {
    total += looks.length;
    for (const { station } of looks) {
      const unit = units.get(keyOf(property, station)) ?? 0;
      counts[unit + 1] = (counts[unit + 1] ?? 0) + 1;
    }
  }
  for (let unit = 0; unit < units.size; unit += 1)
    counts[unit + 1] = (counts[unit + 1] ?? 0) + (counts[unit] ?? 0);
  const rowStart = Int32Array.from(counts);
  const x = new Float32Array(total * columns);
  const hit = new Uint8Array(total);
  const toStructure = new Int32Array(units.size);
  const toBranch = new Int32Array(structures.size);
  for (const [property, { looks, memories }] of properties) {
    for (const { station, structure } of memories.values()) {
      const node = structures.get(keyOf(property, structure)) ?? 0;
      toStructure[units.get(keyOf(property, station)) ?? 0] = node;
      toBranch[node] = tops.get(branches.get(property) ?? '') ?? 0;
    }
    for (const look of looks) {
      const unit = units.get(keyOf(property, look.station)) ?? 0;
      const row = counts[unit] ?? 0;
      counts[unit] = row + 1;
      hit[row] = look.hit ? 1 : 0;
      x.set(look.columns, row * columns);
    }
  }
  return {
    columns,
    x,
    hit,
    rowStart,
    parents: [toStructure, toBranch],
    nodes: [units.size, structures.size, tops.size],
  };
}

function placeOf(
  { nodes, branches }: RiskMemory,
  property: string,
  memory: StationMemory,
): { readonly level: number; readonly node: number } {
  const unit = nodes[0].get(keyOf(property, memory.station));
  if (unit !== undefined) return { level: 0, node: unit };
  const structure = nodes[1].get(keyOf(property, memory.structure));
  if (structure !== undefined) return { level: 1, node: structure };
  const branch = nodes[2].get(branches.get(property) ?? '');
  return branch === undefined ? { level: 3, node: 0 } : { level: 2, node: branch };
}

const FROM = ['station', 'structure', 'branch', 'firm'] as const;

function riskOf(fit: HazardFit | null, memory: RiskMemory, asOf: Day, looks: number, hits: number): HitRisk {
  const commonRate = exactBinomial(hits, looks, 0.9) ?? null;
  return {
    asOf,
    looks,
    hits,
    fit,
    commonRate,
    memory,
    chanceOf(property, station, day) {
      const known = memory.properties.get(property);
      const own = known?.memories.get(station);
      if (known === undefined || own === undefined) return undefined;
      if (own.openHit) return { chance: 0, lower: 0, upper: 0, from: 'station', spread: null };
      if (fit === null) return commonChance(commonRate, looks, hits);
      const x = columnsAt(own, known.memories, day);
      const place = placeInFit(fit, placeOf(memory, property, own));
      const at = hazardAt(fit, x, place);
      const above = placeInFit(fit, placeOf(memory, property, { ...own, station: '' }));
      const stationSpread = fit.levels[0]?.spread ?? 0;
      const shared = Math.sqrt(Math.max(0, hazardAt(fit, x, above).standardError ** 2 - stationSpread ** 2));
      return {
        ...hazardChance(at, 0.9),
        from: FROM[place.level] ?? 'firm',
        spread: {
          eta: at.eta,
          shared: Math.min(shared, at.standardError),
          own: Math.sqrt(Math.max(0, at.standardError ** 2 - shared ** 2)),
        },
      };
    },
  };
}

/** Nodes that came after the fit and were not taken in by an update fall back on the level above. */
function placeInFit(
  fit: HazardFit,
  place: { readonly level: number; readonly node: number },
): { readonly level: number; readonly node: number } {
  const known = fit.levels[place.level]?.effect.length ?? 0;
  return place.level >= fit.levels.length || place.node < known
    ? place
    : { level: fit.levels.length, node: 0 };
}

/** Half a hit more and half a look without one more, as Jeffreys' prior has it: never nothing, never certain. */
function commonChance(rate: Interval | null, looks: number, hits: number): HitChance {
  return {
    chance: (hits + 0.5) / (looks + 1 + BEFORE_ANY_LOOK),
    lower: rate?.lower ?? 0,
    upper: rate?.upper ?? 1,
    from: 'common rate',
    spread: null,
  };
}

/** Looks that stand in for a record while there is none: about one hit in a hundred looks. Common practice, no source. */
const BEFORE_ANY_LOOK = 49;
