import type { Point, Site } from '../site/model.ts';
import { distanceToSegment, edgesOf } from '../site/plane.ts';
import type { Ground } from './ground.ts';
import { type Interval, totalLength } from './intervals.ts';
import type { BlockedBy, Remedy, UnguardedStretch } from './model.ts';
import { type ClosedPath, pointAt } from './stationLine.ts';
import { listUnguardedWall, type WallMap } from './wallMap.ts';

/** Unguarded wall shorter than this is rounding, metres: the chords of round corners are drawn to 2 mm. */
const SHORTEST_STRETCH_METRES = 0.005;

export interface Surroundings {
  readonly site: Site;
  readonly walls: readonly ClosedPath[];
  readonly wallMaps: readonly WallMap[];
  readonly lines: readonly ClosedPath[];
  readonly grounds: readonly Ground[];
}

/**
 * The wall behind the unguarded parts of the lines, and the wall that no line reaches, stretch by stretch.
 * `guardableByLine` (an audit) marks what a station could guard and none does.
 */
export function listUnguardedStretches(
  around: Surroundings,
  unguardedByLine: readonly (readonly Interval[])[],
  reachMetres: number,
  isAudit: boolean,
): { readonly stretches: readonly UnguardedStretch[]; readonly unguardedMetres: number } {
  let unguardedMetres = 0;
  const stretches = around.walls.flatMap((wall, index) => {
    const map = around.wallMaps[index];
    if (map === undefined) return [];
    const found = listUnguardedWall(wall, map, around.lines, unguardedByLine, reachMetres);
    unguardedMetres += totalLength(found.unguarded);
    return joinAtStart(found.unguarded, wall.lengthMetres)
      .filter(({ from, to }) => to - from >= SHORTEST_STRETCH_METRES)
      .map((stretch) => {
        const isNarrow = found.tooNarrow.some((part) => overlaps(part, stretch, wall.lengthMetres));
        return describe(around, wall, map, stretch, isNarrow, unguardedByLine, isAudit);
      });
  });
  return { stretches, unguardedMetres };
}

/** A stretch through the first corner of the wall is one stretch; it then runs past the length of the wall. */
function joinAtStart(parts: readonly Interval[], turn: number): readonly Interval[] {
  const first = parts[0];
  const last = parts[parts.length - 1];
  if (first === undefined || last === undefined || first === last) return parts;
  if (first.from > 1e-6 || last.to < turn - 1e-6) return parts;
  return [...parts.slice(1, -1), { from: last.from, to: turn + first.to }];
}

function overlaps(part: Interval, stretch: Interval, turn: number): boolean {
  return [0, turn].some(
    (shift) => part.from + shift < stretch.to - 1e-6 && part.to + shift > stretch.from + 1e-6,
  );
}

function describe(
  around: Surroundings,
  wall: ClosedPath,
  map: WallMap,
  stretch: Interval,
  isNarrow: boolean,
  unguardedByLine: readonly (readonly Interval[])[],
  isAudit: boolean,
): UnguardedStretch {
  const turn = wall.lengthMetres;
  const { from, to } = stretch;
  const corners = [0, turn].flatMap((shift) =>
    wall.points.filter((_, index) => {
      const along = (wall.along[index] ?? 0) + shift;
      return along > from + 1e-6 && along < to - 1e-6;
    }),
  );
  const start = pointAt(wall, from);
  const end = pointAt(wall, to);
  const behind = map.facing
    .filter((piece) => overlaps({ from: piece.wallFrom, to: piece.wallTo }, stretch, turn))
    .map(({ line, lineFrom, lineTo }) => ({ line, from: lineFrom, to: lineTo }));
  const besides = map.hidden
    .filter((part) => overlaps({ from: part.wallFrom, to: part.wallTo }, stretch, turn) && !isNarrow)
    .flatMap(({ begins, ends }) => [begins, ends])
    .flatMap((place) =>
      place === undefined
        ? []
        : [{ line: place.line, from: place.alongMetres - 0.01, to: place.alongMetres + 0.01 }],
    );
  const blockers = [...behind, ...besides].flatMap((piece) =>
    (around.grounds[piece.line]?.blocked ?? []).flatMap(({ by, parts }) => {
      const open = unguardedByLine[piece.line] ?? [];
      const isBehind = parts.some(
        (part) =>
          part.from < piece.to &&
          part.to > piece.from &&
          open.some(
            (gap) => gap.from < Math.min(part.to, piece.to) && gap.to > Math.max(part.from, piece.from),
          ),
      );
      return isBehind ? [by] : [];
    }),
  );
  const unique = [...new Set(blockers)];
  const why: BlockedBy[] = unique.map((by) => by.why);
  const remedies: Remedy[] = unique.map(({ remedy }) => remedy);
  if (isNarrow) {
    why.push({ kind: 'too_narrow' });
    remedies.push({ kind: 'smaller_setback' });
  } else if (isAudit) {
    why.unshift({ kind: 'no_station' });
    remedies.unshift({ kind: 'add_station' });
  }
  return {
    structureId: structureAt(around.site, pointAt(wall, (from + to) / 2)),
    from: start,
    to: end,
    wall: [start, ...corners, end],
    lengthMetres: to - from,
    why,
    remedies,
  };
}

function structureAt(site: Site, p: Point): string {
  let best = Infinity;
  let id = '';
  for (const structure of site.structures) {
    for (const ring of [structure.outline, ...structure.holes]) {
      for (const [a, b] of edgesOf(ring)) {
        const away = distanceToSegment(p, a, b);
        if (away < best) {
          best = away;
          id = structure.id;
        }
      }
    }
  }
  return id;
}
