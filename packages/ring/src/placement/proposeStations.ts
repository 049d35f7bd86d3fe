import type { Site } from '../site/model.ts';
import { placeExtras } from './extras.ts';
import { listRuns, listUnguarded, planRun } from './fewest.ts';
import { listForbidden } from './forbidden.ts';
import { type Ground, groundOf, lineSetback, placeAt } from './ground.ts';
import type { LineSummary, Proposal, ProposedStation, RingRules } from './model.ts';
import { pullRun } from './pull.ts';
import { type ClosedPath, linesRound, nearestOn, wallDistance, wallsOf } from './stationLine.ts';
import { listUnguardedStretches, type Surroundings } from './unguarded.ts';
import { mapWalls } from './wallMap.ts';

/**
 * Where stations should stand round the structures of a site: nothing unguarded that can be guarded, then the
 * fewest stations, then the smallest greatest gap, then nearest to the points of concern (docs/rules/placement.md).
 * The site must pass checkSite. Throws a RangeError where the rules contradict themselves.
 *
 * `proposeStations(site, { greatestSpacingMetres: metres(3), ... }).stations[0]?.at`
 */
export function proposeStations(site: Site, rules: RingRules): Proposal {
  checkRules(rules);
  const around = survey(site, rules);
  const spacing = rules.greatestSpacingMetres;
  const plans = around.lines.map((line, index) =>
    planLine(line, around.grounds[index], spacing, listPulls(site, line, around.walls, spacing)),
  );
  const ring = plans.flatMap((plan, line) => plan.at.map((alongMetres) => ({ line, alongMetres })));
  const setback = lineSetback(rules);
  const placed = ring.flatMap(({ line, alongMetres }) => {
    const path = around.lines[line];
    const ground = around.grounds[line];
    if (path === undefined || ground === undefined) return [];
    const { at } = placeAt(path, ground, alongMetres);
    return [{ at, line, alongMetres, setbackMetres: wallDistance(around.walls, at) }];
  });
  const { extras, outOfReach } = placeExtras(
    site,
    rules,
    around.lines,
    around.grounds,
    around.walls,
    around.forbidden,
    setback,
    placed.map(({ at }) => at),
  );
  const unguardedByLine = around.lines.map((line, index) =>
    listUnguarded(
      (plans[index]?.at ?? []).map((at) => ({ from: at, to: at })),
      line.lengthMetres,
      spacing,
    ),
  );
  const { stretches, unguardedMetres } = listUnguardedStretches(around, unguardedByLine, spacing / 2, false);
  return {
    lines: around.lines.map((line, index): LineSummary => {
      const plan = plans[index];
      return {
        path: line.points,
        lengthMetres: line.lengthMetres,
        stationCount: plan?.at.length ?? 0,
        greatestGapMetres: plan?.greatestGapMetres ?? 0,
      };
    }),
    stations: numbered([
      ...placed.map((place) => ({ ...place, reason: { kind: 'ring' as const } })),
      ...extras.map(({ concernId, ...place }) => ({
        ...place,
        reason: { kind: 'concern' as const, concernId },
      })),
    ]),
    wallMetres: around.walls.reduce((sum, wall) => sum + wall.lengthMetres, 0),
    unguardedMetres,
    unguarded: stretches,
    concernsOutOfReach: outOfReach.map(({ id, at }) => ({ concernId: id, at })),
  };
}

export interface Survey extends Surroundings {
  readonly forbidden: ReturnType<typeof listForbidden>;
}

/** The walls, lines and ground that a proposal and an audit share. */
export function survey(site: Site, rules: RingRules): Survey {
  const walls = wallsOf(site.structures);
  const lines = linesRound(walls, lineSetback(rules));
  const forbidden = listForbidden(site, rules);
  return {
    site,
    walls,
    lines,
    forbidden,
    wallMaps: mapWalls(walls, lines),
    grounds: lines.map((line) => groundOf(line, walls, forbidden, rules)),
  };
}

export function checkRules(rules: RingRules): void {
  const { nearest, farthest } = rules.setbackMetres;
  if (!(rules.greatestSpacingMetres >= 0.1)) {
    throw new RangeError(`greatest spacing ${rules.greatestSpacingMetres} m: give at least 0.1 m`);
  }
  if (!(nearest >= 0 && farthest >= nearest && farthest > 0)) {
    throw new RangeError(
      `setback ${nearest} to ${farthest} m: give 0 <= nearest <= farthest, farthest over 0`,
    );
  }
  if (!(rules.treatedSoilClearanceMetres >= 0)) throw new RangeError('treated-soil clearance under 0 m');
  if (!(rules.concernDistanceMetres >= 0)) throw new RangeError('concern distance under 0 m');
}

function planLine(line: ClosedPath, ground: Ground | undefined, spacing: number, pulls: readonly number[]) {
  const runs = listRuns(ground?.free ?? [], line.lengthMetres, spacing);
  const plans = runs.map((run) => {
    const plan = planRun(run, spacing);
    return { at: pullRun(run, plan, pulls), greatestGapMetres: plan.greatestGapMetres };
  });
  return {
    at: plans.flatMap(({ at }) => at.map((place) => place % line.lengthMetres)).toSorted((a, b) => a - b),
    greatestGapMetres: plans.reduce((most, { greatestGapMetres }) => Math.max(most, greatestGapMetres), 0),
  };
}

/** Points of concern near the line pull stations; where there are none, a free ring is laid to the corners. */
function listPulls(
  site: Site,
  line: ClosedPath,
  walls: readonly ClosedPath[],
  spacing: number,
): readonly number[] {
  const near = site.concerns.flatMap(({ at }) => {
    const foot = nearestOn(line, at);
    return foot.distanceMetres <= spacing ? [foot.alongMetres] : [];
  });
  if (near.length > 0 || site.hardSurfaces.length + site.keepOuts.length > 0) return near;
  return walls.flatMap((wall) => wall.points.map((corner) => nearestOn(line, corner).alongMetres));
}

function numbered(stations: readonly Omit<ProposedStation, 'number'>[]): readonly ProposedStation[] {
  return stations
    .toSorted((a, b) => (a.line ?? Infinity) - (b.line ?? Infinity) || a.alongMetres - b.alongMetres)
    .map((station, index) => ({ ...station, number: index + 1 }));
}
