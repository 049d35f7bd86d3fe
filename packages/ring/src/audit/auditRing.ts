import { listUnguardable, listUnguarded } from '../placement/fewest.ts';
import { placeAt } from '../placement/ground.ts';
import { intersect } from '../placement/intervals.ts';
import type { RingRules, UnguardedStretch } from '../placement/model.ts';
import { checkRules, type Survey, survey } from '../placement/proposeStations.ts';
import { nearestOn } from '../placement/stationLine.ts';
import { listUnguardedStretches } from '../placement/unguarded.ts';
import type { Point, Site } from '../site/model.ts';
import { distance } from '../site/plane.ts';
import { locateStation } from './locateStation.ts';
import { fewestAdditions, fewestKept, forgiveSlack } from './mend.ts';

export interface AuditedStation {
  readonly stationId: string;
  readonly wallMetres: number;
  readonly setback: 'in_band' | 'too_close' | 'too_far';
  /** Undefined where the station stands too far from the wall to guard any line. */
  readonly line: number | undefined;
  readonly alongMetres: number;
  /** The point of concern for which it stands away from the wall: then it is not moved to one. */
  readonly concernId: string | undefined;
  /** Can be taken away, together with all the others so marked, and no wall loses its guard. */
  readonly isRedundant: boolean;
}

export type Change =
  | { readonly kind: 'move'; readonly stationId: string; readonly from: Point; readonly to: Point }
  | { readonly kind: 'add'; readonly at: Point };

export interface Audit {
  readonly stations: readonly AuditedStation[];
  readonly wallMetres: number;
  readonly unguardedMetres: number;
  readonly unguarded: readonly UnguardedStretch[];
  /** What would still be unguarded after all changes: the ground forbids it. */
  readonly unguardableMetres: number;
  /** The fewest changes after which all that can be guarded is, and every station stands in the setback band. */
  readonly changes: readonly Change[];
  readonly concernsWithoutStation: readonly string[];
}

/**
 * What an existing ring leaves unguarded, which stations stand wrongly or for nothing, and the fewest changes that
 * mend it. Throws a RangeError where the rules contradict themselves; the site must pass checkSite.
 *
 * The fewest: stations in the band all stay, for a station kept never asks for more additions; each line then needs
 * the fewest new places between those kept, found exactly; a station out of the band must be moved in any case and
 * a redundant one may be, so these take the new places before any new station does. One that stands away from the wall
 * beside a point of concern stays there.
 */
export function auditRing(site: Site, rules: RingRules): Audit {
  checkRules(rules);
  const around = survey(site, rules);
  const spacing = rules.greatestSpacingMetres;
  const located = site.stations.map((station) => locateStation(station, around, rules));
  const standing = around.lines.map((_, line) =>
    located.flatMap(({ setback, stationId, positions }) =>
      setback !== 'in_band'
        ? []
        : positions.flatMap((position) =>
            position.line === line ? [{ stationId, alongMetres: position.alongMetres }] : [],
          ),
    ),
  );
  const unguardableByLine = around.lines.map((line, index) =>
    listUnguardable(around.grounds[index]?.free ?? [], line.lengthMetres, spacing),
  );
  const unguardedByLine = around.lines.map((line, index) => {
    const places = (standing[index] ?? []).map(({ alongMetres }) => ({ from: alongMetres, to: alongMetres }));
    const open = listUnguarded(places, line.lengthMetres, spacing);
    return forgiveSlack(open, unguardableByLine[index] ?? [], line.lengthMetres);
  });
  const { stretches, unguardedMetres } = listUnguardedStretches(around, unguardedByLine, spacing / 2, true);
  const left = around.lines.map((_, index) =>
    intersect(unguardedByLine[index] ?? [], unguardableByLine[index] ?? []),
  );
  const rest = listUnguardedStretches(around, left, spacing / 2, false);
  const kept = new Set(
    around.lines.flatMap((line, index) => {
      const places = standing[index] ?? [];
      const which = fewestKept(
        places.map(({ alongMetres }) => alongMetres),
        line.lengthMetres,
        spacing,
      );
      return which.map((place) => places[place]?.stationId ?? '');
    }),
  );
  const concerned = keepForConcerns(site, rules, kept);
  const stations = located.map(
    ({ positions: [first], ...found }): AuditedStation => ({
      ...found,
      line: first?.line,
      alongMetres: first?.alongMetres ?? 0,
      concernId: found.setback === 'too_far' ? concernBeside(site, rules, found.stationId) : undefined,
      isRedundant:
        found.setback === 'in_band' && !kept.has(found.stationId) && !concerned.has(found.stationId),
    }),
  );
  return {
    stations,
    wallMetres: around.walls.reduce((sum, wall) => sum + wall.lengthMetres, 0),
    unguardedMetres,
    unguarded: stretches,
    unguardableMetres: rest.unguardedMetres,
    changes: listChanges(
      site,
      around,
      rules,
      stations,
      standing.map((places) => places.map(({ alongMetres }) => alongMetres)),
    ),
    concernsWithoutStation: site.concerns
      .filter(
        ({ at }) =>
          !site.stations.some((station) => distance(station.at, at) <= rules.concernDistanceMetres + 1e-6),
      )
      .map(({ id }) => id),
  };
}

function concernBeside(site: Site, rules: RingRules, stationId: string): string | undefined {
  const station = site.stations.find(({ id }) => id === stationId);
  if (station === undefined) return undefined;
  return site.concerns
    .filter(({ at }) => distance(at, station.at) <= rules.concernDistanceMetres + 1e-6)
    .toSorted((a, b) => distance(a.at, station.at) - distance(b.at, station.at))[0]?.id;
}

/** A point of concern keeps the nearest of the stations within its distance, unless one is kept already. */
function keepForConcerns(site: Site, rules: RingRules, kept: ReadonlySet<string>): ReadonlySet<string> {
  const keptFor = new Set<string>();
  for (const { at } of site.concerns) {
    const within = site.stations
      .filter((station) => distance(station.at, at) <= rules.concernDistanceMetres + 1e-6)
      .toSorted((a, b) => distance(a.at, at) - distance(b.at, at));
    const [nearest] = within;
    if (nearest === undefined || within.some(({ id }) => kept.has(id) || keptFor.has(id))) continue;
    keptFor.add(nearest.id);
  }
  return keptFor;
}

function listChanges(
  site: Site,
  around: Survey,
  rules: RingRules,
  stations: readonly AuditedStation[],
  standing: readonly (readonly number[])[],
): readonly Change[] {
  const spacing = rules.greatestSpacingMetres;
  const open = around.lines.flatMap((line, index) => {
    const ground = around.grounds[index];
    if (ground === undefined) return [];
    const places = fewestAdditions(standing[index] ?? [], ground.free, line.lengthMetres, spacing);
    return places.map((along) => placeAt(line, ground, along).at);
  });
  const at = new Map(site.stations.map((station) => [station.id, station.at]));
  const outOfBand = stations.filter(
    ({ setback, concernId }) => setback !== 'in_band' && concernId === undefined,
  );
  const redundant = stations.filter(({ isRedundant }) => isRedundant);
  const changes: Change[] = [];
  const places = [...open];
  for (const { stationId } of [...outOfBand, ...redundant]) {
    const from = at.get(stationId);
    if (from === undefined || places.length === 0) continue;
    const to = places.reduce((best, place) => (distance(place, from) < distance(best, from) ? place : best));
    places.splice(places.indexOf(to), 1);
    changes.push({ kind: 'move', stationId, from, to });
  }
  const moved = new Set(changes.flatMap((change) => (change.kind === 'move' ? [change.stationId] : [])));
  for (const { stationId } of outOfBand) {
    const from = at.get(stationId);
    if (from === undefined || moved.has(stationId)) continue;
    const to = nearestPlace(around, from);
    if (to !== undefined) changes.push({ kind: 'move', stationId, from, to });
  }
  return [...changes, ...places.map((place) => ({ kind: 'add' as const, at: place }))];
}

function nearestPlace(around: Survey, from: Point): Point | undefined {
  const places = around.lines.flatMap((line, index) => {
    const ground = around.grounds[index];
    if (ground === undefined) return [];
    const { alongMetres } = nearestOn(line, from);
    return ground.free.flatMap((arc) =>
      [alongMetres - line.lengthMetres, alongMetres, alongMetres + line.lengthMetres].map(
        (along) => placeAt(line, ground, Math.min(arc.to, Math.max(arc.from, along))).at,
      ),
    );
  });
  return places.toSorted((a, b) => distance(a, from) - distance(b, from))[0];
}
