import { type CompassSide, unroll } from '@sillwatch/ring';
import {
  type AnyFact,
  type Day,
  type FactBodies,
  resolveFacts,
  type StandingFact,
  type StationState,
  type StructureState,
} from '@sillwatch/trade';

/** What one look says in the picture, the weightiest first. `lost`: a new station was set in its place. */
export type Said = 'feeding' | 'hit' | 'signs' | 'nothing' | 'missed' | 'set' | 'removed' | 'lost';

export interface Look {
  readonly station: string;
  readonly visit: string;
  readonly day: Day;
  readonly said: Said;
  /** The yearly service was completed at this look. */
  readonly yearly: boolean;
}

/** Bait in a station, from the day it went in to the day it came out; null = still there. */
export interface Baited {
  readonly station: string;
  readonly from: Day;
  readonly to: Day | null;
}

export interface Column {
  readonly station: string;
  readonly number: number;
  /** Per cent of the perimeter from its first corner; evenly spread where nothing is drawn. */
  readonly place: number;
}

export interface RingInTime {
  readonly columns: readonly Column[];
  /** Days of visits, the latest first. */
  readonly days: readonly Day[];
  readonly looks: readonly Look[];
  readonly baited: readonly Baited[];
  /** null where the structure is not drawn */
  readonly walls: readonly { readonly place: number; readonly faces: CompassSide }[] | null;
  readonly lengthMetres: number | null;
}

type Of<K extends keyof FactBodies> = StandingFact & { readonly kind: K; readonly body: FactBodies[K] };
type Known = Of<'station installed'> | Of<'station seen'> | Of<'station removed'> | Of<'station replaced'>;
const KINDS = ['station installed', 'station seen', 'station removed', 'station replaced'];

function isKnown(one: StandingFact): one is Known {
  return KINDS.includes(one.kind);
}

/** The perimeter of one structure unrolled along one axis, and what was found on each day along the other. */
export function ringInTime(
  structure: StructureState,
  stations: readonly StationState[],
  facts: Iterable<AnyFact>,
): RingInTime {
  const here = stations.filter((station) => station.structure === structure.structure);
  const ids = new Set(here.map(({ station }) => station));
  const looks: Look[] = [];
  const baited: Baited[] = [];
  const baitSince = new Map<string, Map<string, Day>>();
  for (const one of resolveFacts(facts).standing) {
    const { station } = one.fact;
    if (station === null || !ids.has(station) || !isKnown(one)) continue;
    const { day } = one.when;
    looks.push(lookOf(one, station, day));
    const slots = baitSince.get(station) ?? new Map<string, Day>();
    baitSince.set(station, slots);
    for (const end of noteBait(slots, one, day)) baited.push({ station, ...end });
  }
  for (const [station, slots] of baitSince)
    for (const from of slots.values()) baited.push({ station, from, to: null });
  return {
    ...columnsOf(structure, here),
    days: [...new Set(looks.map(({ day }) => day))].sort((a, b) => b - a),
    looks,
    baited,
  };
}

function lookOf(one: Known, station: string, day: Day): Look {
  switch (one.kind) {
    case 'station installed':
      return { station, visit: one.body.visit ?? '', day, said: 'set', yearly: false };
    case 'station removed':
      return { station, visit: '', day, said: 'removed', yearly: false };
    case 'station replaced':
      return { station, visit: '', day, said: 'lost', yearly: false };
    case 'station seen':
      return {
        station,
        visit: one.body.visit,
        day,
        said: saidOf(one.body),
        yearly: one.body.work.yearlyServiceDone,
      };
  }
}

function saidOf({ finding }: FactBodies['station seen']): Said {
  if (finding.reach !== 'opened') return 'missed';
  switch (finding.termites) {
    case 'live on bait':
      return 'feeding';
    case 'live on monitor':
      return 'hit';
    case 'signs only':
      return 'signs';
    case 'none':
      return 'nothing';
  }
}

/** Keeps which slots hold bait, and gives back each run of bait that ends with this fact. */
function noteBait(slots: Map<string, Day>, one: Known, day: Day): readonly { from: Day; to: Day }[] {
  const ended: { from: Day; to: Day }[] = [];
  const takeOut = (slot: string): void => {
    const from = slots.get(slot);
    if (from !== undefined) ended.push({ from, to: day });
    slots.delete(slot);
  };
  const fitted =
    one.kind === 'station seen'
      ? one.body.work.fitted
      : one.kind === 'station removed'
        ? []
        : one.body.inserts;
  if (one.kind === 'station removed' || one.kind === 'station replaced')
    for (const slot of [...slots.keys()]) takeOut(slot);
  if (one.kind === 'station seen') for (const slot of one.body.work.withdrawn) takeOut(slot);
  for (const { slot, insert } of fitted) {
    if (insert === 'monitor') takeOut(slot);
    else if (!slots.has(slot)) slots.set(slot, day);
  }
  return ended;
}

function columnsOf(
  { outline }: StructureState,
  stations: readonly StationState[],
): Pick<RingInTime, 'columns' | 'walls' | 'lengthMetres'> {
  const ordered = stations.toSorted((a, b) => a.number - b.number);
  const drawn = ordered.filter(({ position }) => position !== null);
  if (outline === null || outline.length < 3 || drawn.length < ordered.length)
    return {
      columns: ordered.map(({ station, number }, index) => ({
        station,
        number,
        place: (100 * (index + 0.5)) / ordered.length,
      })),
      walls: null,
      lengthMetres: null,
    };
  const { lengthMetres, walls, alongMetres } = unroll(
    outline.map(([x, y]) => ({ x, y })),
    ordered.map(({ position }) => ({ x: position?.[0] ?? 0, y: position?.[1] ?? 0 })),
  );
  const share = (along: number): number => (100 * along) / lengthMetres;
  return {
    columns: ordered
      .map(({ station, number }, index) => ({ station, number, place: share(alongMetres[index] ?? 0) }))
      .sort((a, b) => a.place - b.place),
    walls: walls.map(({ fromMetres, faces }) => ({ place: share(fromMetres), faces })),
    lengthMetres,
  };
}
