import { compareSites, type Draft, type Site, siteOfDraft, type Thing } from '@sillwatch/ring';
import {
  type DrawingChange,
  type DrawnProperty,
  listDrawingChanges,
  type StoringChoices,
} from '@sillwatch/rounds';
import type { AnyFact } from '@sillwatch/trade';
import { postJson } from '../../api/client.ts';
import { FactRefusedError } from '../../api/office.ts';
import type { Me, PropertyAnswer, Verdict } from '../../api/types.ts';
import { takeStamp } from '../../shared/device.ts';

export function drawnOf({ property, body, structures, site, stations }: PropertyAnswer): DrawnProperty {
  return { property, body, structures, site, stations };
}

/** Stations that the property has, in the ground or taken out: a drawing neither sets nor removes them. */
export function knownStations({ stations }: Pick<PropertyAnswer, 'stations'>): ReadonlySet<string> {
  return new Set(stations.map(({ station }) => station));
}

/** Stations in the ground whose place nobody has measured. */
export function unplacedStations(
  { stations }: Pick<PropertyAnswer, 'stations'>,
  site: Site,
): PropertyAnswer['stations'] {
  const drawn = new Set(site.stations.map(({ id }) => id));
  return stations.filter(({ station, inService }) => inService && !drawn.has(station));
}

/** By structure, the numbers of its stations, whether or not they have a place. */
export function ringNumbers({
  stations,
}: Pick<PropertyAnswer, 'stations'>): ReadonlyMap<string, ReadonlySet<number>> {
  const inService = stations.filter((station) => station.inService);
  const byStructure = Map.groupBy(inService, ({ structure }) => structure);
  return new Map(
    [...byStructure].map(([structure, ring]) => [structure, new Set(ring.map(({ number }) => number))]),
  );
}

/** Stations of the drawing that the property does not have. */
export function newStations(site: Site, known: ReadonlySet<string>): Site['stations'] {
  return site.stations.filter(({ id }) => !known.has(id));
}

/** What storing asks for before it can be done. */
export interface Needs {
  /** `metres` null: it had no place before. */
  readonly moved: readonly { readonly number: number; readonly metres: number | null }[];
  readonly removedStructures: boolean;
  readonly place: boolean;
}

export function needsOf(property: DrawnProperty, site: Site): Needs {
  const changes = listDrawingChanges(property, site, { whyRemoved: '-', whyMoved: '-', installed: null });
  const before = new Map(property.stations.map((state) => [state.station, state]));
  return {
    moved: changes.flatMap((change) => {
      if (change.kind !== 'station moved') return [];
      const state = before.get(change.station ?? '');
      const [x, y] = change.body.position;
      const far = state?.position == null ? null : Math.hypot(state.position[0] - x, state.position[1] - y);
      return [{ number: state?.number ?? 0, metres: far }];
    }),
    removedStructures: changes.some(({ kind }) => kind === 'structure removed'),
    place: changes.some(({ kind }) => kind === 'property changed'),
  };
}

export interface Setting {
  readonly me: Me;
  readonly property: DrawnProperty;
  readonly site: Site;
  readonly choices: StoringChoices;
  /** `YYYY-MM-DD` on which new stations were set; null = none were. */
  readonly setOn: string | null;
}

/** Records what differs in one request and one transaction; the number of entries. Throws FactRefusedError with the reason. */
export async function storeDrawing({ me, property, site, choices, setOn }: Setting): Promise<number> {
  const facts = listDrawingChanges(property, site, choices).map((change) =>
    toFact(me, property.property, change, setOn),
  );
  if (facts.length === 0) return 0;
  const { verdicts } = await postJson<{ readonly verdicts: readonly Verdict[] }>('/api/facts', { facts });
  const refused = verdicts.find((verdict) => verdict.verdict === 'refused');
  if (refused?.verdict === 'refused') throw new FactRefusedError(refused);
  return facts.length;
}

function toFact(
  me: Me,
  property: string,
  { kind, station, body }: DrawingChange,
  setOn: string | null,
): AnyFact {
  const stamp = takeStamp();
  // A station was set on the day that was given, at noon of this device's clock; the rest happened now.
  const at = kind === 'station installed' && setOn !== null ? atNoon(setOn, stamp.at) : stamp.at;
  return { ...stamp, at, firm: me.firm.id, property, station, by: me.id, kind, body };
}

/** The hour is not known; noon keeps the day in every zone of the country. Today counts as now: noon may not have come. */
function atNoon(day: string, now: string): string {
  return day === now.slice(0, 10) ? now : `${day}T12:00:00${now.slice(19)}`;
}

/** Places that were taken over and not set: they stay on the drawing after the rest was stored. */
export function leftOver(draft: Draft, stored: Site): readonly Thing[] {
  const { stations } = siteOfDraft(draft);
  const known = new Set(stored.stations.map(({ id }) => id));
  const onlyHere = new Set(
    compareSites(draft.base, siteOfDraft(draft)).flatMap(({ change, thing }) =>
      change === 'added' && thing.layer === 'stations' ? [thing.value.id] : [],
    ),
  );
  return stations
    .filter(({ id }) => onlyHere.has(id) && !known.has(id))
    .map((value): Thing => ({ layer: 'stations', value }));
}
