import {
  type AnyFact,
  foldProperty,
  type LabelProfile,
  type PropertyState,
  type StationState,
} from '@sillwatch/trade';
import { civilFromDay, type Day, dayFromCivil, dayFromNumber } from '@sillwatch/trade/units';
import { historyOf, type Look, type PropertyHistory } from './history.ts';

/** One property as figures see it: its facts read, its state, and the branch that it belongs to. */
export interface FigureSubject {
  readonly history: PropertyHistory;
  readonly state: PropertyState;
  readonly branch: string;
  readonly profile: LabelProfile;
}

export function subjectOf(
  history: PropertyHistory,
  state: PropertyState,
  profile: LabelProfile,
): FigureSubject {
  return { history, state, branch: state.body?.branch ?? '', profile };
}

/** Facts of properties by property, in the order given; those of the firm itself are left out. */
export function groupByProperty(facts: Iterable<AnyFact>): ReadonlyMap<string, readonly AnyFact[]> {
  const factsByProperty = new Map<string, AnyFact[]>();
  for (const fact of facts) {
    if (fact.property === null) continue;
    const own = factsByProperty.get(fact.property);
    if (own === undefined) factsByProperty.set(fact.property, [fact]);
    else own.push(fact);
  }
  return factsByProperty;
}

/** Reads the facts of many properties; those whose label profile is not among the firm's are named, as none of their windows is known. */
export function readSubjects(
  factsByProperty: Iterable<readonly [string, Iterable<AnyFact>]>,
  profiles: Readonly<Record<string, LabelProfile>>,
): { readonly subjects: readonly FigureSubject[]; readonly withoutProfile: readonly string[] } {
  const subjects: FigureSubject[] = [];
  const withoutProfile: string[] = [];
  for (const [property, facts] of factsByProperty) {
    const own = [...facts];
    const state = foldProperty(own);
    const profile = profiles[state.body?.profile ?? ''];
    if (profile === undefined) withoutProfile.push(property);
    else subjects.push(subjectOf(historyOf(property, own), state, profile));
  }
  return { subjects, withoutProfile };
}

/** What the chance of a hit at a look leans on; all of it is known before the cap is lifted. */
export const RISK_COLUMNS = [
  'always',
  'season, warm against cold half',
  'season, spring against autumn',
  'time since the last look',
  'age of the station',
  'earlier hit at this station',
  'hits beside it within a year',
  'hit at the structure within a year',
  'signs here within a year',
  'point of concern near',
  'set beside a hit',
] as const;

/** What is known of one station between looks. */
export interface StationMemory {
  readonly station: string;
  readonly structure: string;
  readonly auxiliary: boolean;
  readonly nearConcern: boolean;
  /** the two stations on each side, along the ring's numbers */
  readonly beside: readonly string[];
  installedOn: Day;
  lastLookOn: Day | null;
  lastLiveOn: Day | null;
  lastSignsOn: Day | null;
  everHit: boolean;
  /** a hit that is not clear yet: no new hit can be found here */
  openHit: boolean;
  termiteFreeLooks: number;
}

/** One look at a station that was at risk. */
export interface RiskLook {
  readonly station: string;
  readonly day: Day;
  readonly columns: readonly number[];
  readonly hit: boolean;
}

export interface PropertyRisk {
  readonly memories: ReadonlyMap<string, StationMemory>;
  readonly looks: readonly RiskLook[];
}

/** Goes through a property's looks in the order in which they happened, and keeps for each what was known just before. */
export function readRisk({ history, state, profile }: FigureSubject): PropertyRisk {
  const memories = openMemories(state, history, profile);
  const looks: RiskLook[] = [];
  let installed = 0;
  const { installations } = history;
  for (const look of history.looks) {
    for (; installed < installations.length; installed += 1) {
      const next = installations[installed];
      if (next === undefined || next.day > look.day) break;
      const memory = memories.get(next.station);
      if (memory !== undefined && next.body === null) beginAgain(memory, next.day);
    }
    const memory = memories.get(look.station);
    const { finding } = look.body;
    if (memory === undefined || finding.reach !== 'opened') continue;
    const isLive = finding.termites === 'live on monitor' || finding.termites === 'live on bait';
    if (!memory.openHit)
      looks.push({
        station: look.station,
        day: look.day,
        columns: columnsAt(memory, memories, look.day),
        hit: isLive,
      });
    remember(memory, look, isLive, profile.clearAfterChecks.value);
  }
  return { memories, looks };
}

function openMemories(
  state: PropertyState,
  history: PropertyHistory,
  profile: LabelProfile,
): Map<string, StationMemory> {
  const rings = new Map<string, StationState[]>();
  for (const station of state.stations) {
    const ring = rings.get(station.structure);
    if (ring === undefined) rings.set(station.structure, [station]);
    else ring.push(station);
  }
  const firstDay = new Map<string, Day>();
  for (const { station, day } of history.installations)
    if (!firstDay.has(station)) firstDay.set(station, day);
  const concerns = (state.site?.concerns ?? []).map(({ at }) => at);
  const memories = new Map<string, StationMemory>();
  for (const ring of rings.values()) {
    ring.sort((a, b) => a.number - b.number);
    ring.forEach((station, place) => {
      memories.set(station.station, {
        station: station.station,
        structure: station.structure,
        auxiliary: station.auxiliary,
        nearConcern: isNear(station.position, concerns, profile.concernDistanceMetres.value),
        beside: [-2, -1, 1, 2].flatMap((step) => {
          const other = ring[(((place + step) % ring.length) + ring.length) % ring.length];
          return other === undefined || other.station === station.station ? [] : [other.station];
        }),
        installedOn: firstDay.get(station.station) ?? station.installedOn,
        lastLookOn: null,
        lastLiveOn: null,
        lastSignsOn: null,
        everHit: false,
        openHit: false,
        termiteFreeLooks: 0,
      });
    });
  }
  return memories;
}

function isNear(
  position: StationState['position'],
  concerns: readonly (readonly [number, number])[],
  withinMetres: number,
): boolean {
  if (position === null) return false;
  const [x, y] = position;
  return concerns.some(([cx, cy]) => Math.hypot(cx - x, cy - y) <= withinMetres);
}

/** A new housing in the old one's place. */
function beginAgain(memory: StationMemory, day: Day): void {
  memory.installedOn = day;
  memory.lastLookOn = null;
  memory.openHit = false;
  memory.termiteFreeLooks = 0;
}

function remember(memory: StationMemory, look: Look, isLive: boolean, clearAfter: number): void {
  memory.lastLookOn = look.day;
  if (isLive) {
    memory.lastLiveOn = look.day;
    memory.everHit = true;
    memory.openHit = true;
    memory.termiteFreeLooks = 0;
    return;
  }
  if (look.body.finding.reach === 'opened' && look.body.finding.termites === 'signs only')
    memory.lastSignsOn = look.day;
  if (!memory.openHit) return;
  memory.termiteFreeLooks += 1;
  if (memory.termiteFreeLooks >= clearAfter) memory.openHit = false;
}

const YEAR = 365;
const QUARTER = 91.3;

/** The columns of a look on this day, in the order of RISK_COLUMNS. */
export function columnsAt(
  memory: StationMemory,
  memories: ReadonlyMap<string, StationMemory>,
  day: Day,
): readonly number[] {
  const since = memory.lastLookOn ?? memory.installedOn;
  const days = Math.max(1, day - since);
  // Termites came some time between the looks: the season of the middle of that time, at most half a year back.
  const turn = yearTurn(day - Math.min(days, 183) / 2);
  const within = (other: Day | null): boolean => other !== null && other < day && day - other <= YEAR;
  let beside = 0;
  for (const station of memory.beside) if (within(memories.get(station)?.lastLiveOn ?? null)) beside += 1;
  let atStructure = 0;
  for (const other of memories.values())
    if (other !== memory && other.structure === memory.structure && within(other.lastLiveOn)) atStructure = 1;
  return [
    1,
    Math.cos(turn - MIDSUMMER),
    Math.sin(turn - MIDSUMMER),
    Math.min(1.5, Math.max(-2, Math.log(days / QUARTER))),
    Math.log1p(Math.max(0, day - memory.installedOn) / YEAR),
    memory.everHit ? 1 : 0,
    Math.min(2, beside),
    atStructure,
    within(memory.lastSignsOn) ? 1 : 0,
    memory.nearConcern ? 1 : 0,
    memory.auxiliary ? 1 : 0,
  ];
}

/** Angle of the year; 0 at its first day. */
function yearTurn(day: number): number {
  const { year } = civilFromDay(dayFromNumber(Math.floor(day)));
  return (2 * Math.PI * (day - dayFromCivil(year, 1, 1))) / 365.25;
}

/** mid-July */
const MIDSUMMER = (2 * Math.PI * 195) / 365.25;
