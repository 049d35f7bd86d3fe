import { existsSync, readFileSync } from 'node:fs';
import { metres } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import { proposeStations } from '../../src/placement/proposeStations.ts';
import { checkSite } from '../../src/site/checkSite.ts';
import type { Point, Site } from '../../src/site/model.ts';
import { edgesOf } from '../../src/site/plane.ts';
import { siteFromGeoJson } from '../../src/site/siteFromGeoJson.ts';
import { walkSite } from '../../src/walk/index.ts';

/** Open building outlines (GeoJSON), where they are on this machine. */
const FILE = new URL('../../../../../shared/data/footprints/houses.geojson', import.meta.url);
const HOUSES = 60;

const RULES = {
  greatestSpacingMetres: metres(3),
  setbackMetres: { nearest: metres(0.15), farthest: metres(0.6) },
  treatedSoilClearanceMetres: metres(0.6),
  concernDistanceMetres: metres(1.5),
};

function listHouses(): readonly Site[] {
  const { features } = JSON.parse(readFileSync(FILE, 'utf8'));
  const sites: Site[] = [];
  for (const feature of features) {
    if (sites.length === HOUSES) break;
    if (feature.geometry?.type !== 'Polygon') continue;
    const one = { ...feature, properties: { ...feature.properties, kind: 'structure' } };
    const read = siteFromGeoJson(JSON.stringify({ type: 'FeatureCollection', features: [one] }));
    if (read.ok && checkSite(read.site).length === 0) sites.push(read.site);
  }
  return sites;
}

/** Independent of the search: does a step cross a wall from one side to the other? */
function crossesWall(a: Point, b: Point, site: Site): boolean {
  const side = (p: Point, q: Point, r: Point): number =>
    Math.sign((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x));
  return site.structures.some((structure) =>
    [structure.outline, ...structure.holes].some((ring) =>
      edgesOf(ring).some(([c, d]) => side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0),
    ),
  );
}

describe('walks round real houses', () => {
  if (!existsSync(FILE)) {
    it.skip('the open building outlines are not on this machine; planWalk.test.ts holds invented yards', () => {});
    return;
  }
  it(`reaches every proposed station of ${HOUSES} houses and never goes through a wall`, () => {
    let solved = 0;
    for (const site of listHouses()) {
      const proposal = proposeStations(site, RULES);
      const outer = proposal.stations.filter((station) => station.line === 0);
      if (outer.length < 3) continue;
      const stations = outer.map(({ number, at }) => ({ id: `s${number}`, number, at }));
      const xs = site.structures.flatMap((structure) => structure.outline.map((corner) => corner.x));
      const ys = site.structures.flatMap((structure) => structure.outline.map((corner) => corner.y));
      const start = { x: Math.min(...xs) - 5, y: Math.min(...ys) - 5 };
      const walk = walkSite({ ...site, stations }, { start, end: 'start', seed: 1 });
      const length = proposal.lines[0]?.lengthMetres ?? 0;
      expect(walk.unreachable).toEqual([]);
      expect(new Set(walk.order).size).toBe(stations.length);
      for (const leg of walk.legs)
        for (const [index, a] of leg.points.entries()) {
          const b = leg.points[index + 1];
          if (b !== undefined) expect(crossesWall(a, b, site)).toBe(false);
        }
      // Once round along the station line, out to it and back, is one way to do it: the search must not be longer.
      const out = Math.min(
        ...stations.map(
          ({ at }) =>
            walkSite({ ...site, stations: [{ id: 'x', number: 1, at }] }, { start, end: 'anywhere', seed: 1 })
              .lengthMetres,
        ),
      );
      const slack = 1.01;
      expect(walk.lengthMetres).toBeLessThanOrEqual((length + 2 * out) * slack + 0.02 * 2 * stations.length);
      solved += 1;
    }
    expect(solved).toBeGreaterThan(HOUSES / 2);
  }, 60_000);
});
