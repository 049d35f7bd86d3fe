import type { Point, Site } from '../site/model.ts';
import type { Barrier, WalkGround } from './ground.ts';
import { planWalk, type Walk } from './planWalk.ts';

export interface SiteWalkOptions {
  /** gate, door or truck */
  readonly start: Point;
  readonly end: 'start' | 'anywhere' | Point;
  /** Stations that are due; all of them when left out. */
  readonly stationIds?: ReadonlySet<string>;
  readonly seed: number;
}

/** What stands in a walker's way on the site: buildings, pools and fences, with the gates that open them. */
export function siteToGround(site: Site): WalkGround {
  const buildings = site.structures.map(
    ({ outline, holes }): Barrier => ({ kind: 'closed', outer: outline, courtyards: holes }),
  );
  const pools = site.hardSurfaces.flatMap((surface): Barrier[] =>
    surface.kind === 'pool' ? [{ kind: 'closed', outer: surface.outline, courtyards: [] }] : [],
  );
  const fences = site.fences.map((fence): Barrier => ({ kind: 'open', line: fence.path }));
  return { barriers: [...buildings, ...pools, ...fences], gates: site.gates };
}

/** The shortest walk through the stations that are due; stops carry the stations' ids. As planWalk. */
export function walkSite(site: Site, { start, end, stationIds, seed }: SiteWalkOptions): Walk {
  const stops = site.stations.filter((station) => stationIds?.has(station.id) ?? true);
  return planWalk({ ground: siteToGround(site), start, end, stops, seed });
}
