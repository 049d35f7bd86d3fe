import {
  auditRing,
  checkSite,
  drawSite,
  proposeStations,
  STATION_MARK_KINDS,
  siteFromGeoJson,
  siteToGeoJson,
} from '@sillwatch/ring';
import { type AnyFact, DEMO_PROFILE, foldProperty } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { ringRulesOf, siteOf, siteToBodies, stationMarkOf } from '../src/index.ts';
import { bodyFact, HOUSE, SURROUNDINGS } from './support/drawnHouse.ts';

/** A house of 12 m by 8 m with stations at its corners, half a metre off. */
function houseFacts(): readonly AnyFact[] {
  const at = '2026-01-05T09:00:00-05:00';
  const fact = (kind: string, station: string | null, body: unknown, seq: number): AnyFact => ({
    id: `0190a3b0-0000-7000-8000-00000000000${seq}`,
    firm: 'firm-1',
    property: 'property-1',
    station,
    by: 'person-1',
    device: 'phone-1',
    seq,
    at,
    clock: `001767621600000.0000${seq}`,
    kind,
    body,
  });
  const outline = [
    [0, 0],
    [12, 0],
    [12, 8],
    [0, 8],
  ];
  const corners = [
    [-0.5, -0.5],
    [12.5, -0.5],
    [12.5, 8.5],
    [-0.5, 8.5],
  ];
  return [
    fact(
      'structure added',
      null,
      { structure: 'house', name: 'House', foundation: 'crawl space', outline },
      1,
    ),
    ...corners.map((position, index) =>
      fact(
        'station installed',
        `s${index + 1}`,
        {
          structure: 'house',
          number: index + 1,
          tag: null,
          model: 'two-part',
          position,
          auxiliary: false,
          visit: null,
          inserts: [],
          application: null,
        },
        index + 2,
      ),
    ),
    fact('station removed', 's4', { why: 'paved over' }, 6),
  ];
}

describe('a property as a drawing', () => {
  const state = foldProperty(houseFacts());
  const site = siteOf(state);

  it('has its structures and the stations in service, and passes the check of drawings', () => {
    expect(site.structures.map(({ id, foundation, outline }) => [id, foundation, outline.length])).toEqual([
      ['house', 'crawl space', 4],
    ]);
    expect(site.stations.map(({ number }) => number)).toEqual([1, 2, 3]);
    expect(checkSite(site)).toEqual([]);
  });

  it('can be audited and planned by the profile’s numbers: the paved-over corner is unguarded, and mended', () => {
    const rules = ringRulesOf(DEMO_PROFILE);
    const audit = auditRing(site, rules);
    expect(audit.unguardedMetres).toBeGreaterThan(5);
    expect(audit.unguardableMetres).toBe(0);
    expect(audit.changes.length).toBeGreaterThan(0);
    expect(proposeStations(site, rules).unguardedMetres).toBe(0);
  });

  it('is drawn with every station’s number', () => {
    const svg = drawSite(site, {
      medium: { kind: 'screen', width: 400, height: 300 },
      contrast: 'usual',
      units: 'ft',
      marks: new Map(),
    });
    for (const { number } of site.stations) expect(svg).toContain(`>${number}<`);
  });
});

describe('what is drawn round the structures', () => {
  const facts = [bodyFact('structure added', null, HOUSE, 1), bodyFact('site drawn', null, SURROUNDINGS, 2)];
  const site = siteOf(foldProperty(facts));

  it('is on the drawing, all of it, and passes the check of drawings', () => {
    expect(site.structures[0]?.holes).toHaveLength(1);
    expect(site.hardSurfaces.map(({ kind }) => kind)).toEqual(['drive']);
    expect(site.keepOuts.map(({ kind }) => kind)).toEqual(['utility_line', 'well', 'drain', 'treated_soil']);
    expect(site.plantings).toHaveLength(1);
    expect(site.concerns).toEqual([
      { id: 'damp', kind: 'moisture', at: { x: 12.4, y: 1 }, note: 'downspout drips' },
    ]);
    expect(site.fences[0]?.path).toHaveLength(5);
    expect(site.gates).toEqual([{ id: 'back', at: { x: 6, y: 14 }, widthMetres: 1 }]);
    expect(site.parking).toEqual({ x: 6, y: -6.5 });
    expect(checkSite(site)).toEqual([]);
  });

  it('goes into facts and comes back the same, through GeoJSON too', () => {
    expect(siteToBodies(site)).toEqual({ structures: [HOUSE], site: SURROUNDINGS });
    const written = siteToGeoJson(site);
    const read = siteFromGeoJson(JSON.stringify(written));
    if (!read.ok) throw new Error(JSON.stringify(read.refusals));
    const stored = siteToBodies(read.site);
    const again = siteOf(
      foldProperty([
        ...stored.structures.map((body, index) => bodyFact('structure added', null, body, index + 1)),
        bodyFact('site drawn', null, stored.site, 9),
      ]),
    );
    expect(siteToGeoJson(again)).toEqual(written);
  });

  it('is gone when the structure is', () => {
    const gone = bodyFact('structure removed', null, { structure: 'house', why: 'burnt down, invented' }, 3);
    expect(siteOf(foldProperty([...facts, gone])).structures).toEqual([]);
  });

  it('is passed over when it was never drawn', () => {
    const bare = siteOf(foldProperty(facts.slice(0, 1)));
    expect([bare.hardSurfaces, bare.keepOuts, bare.fences, bare.parking]).toEqual([[], [], [], undefined]);
  });
});

describe('the mark of a station', () => {
  const [station] = foldProperty(houseFacts()).stations;
  if (station === undefined) throw new Error('the house has stations');

  it('says gone and unseen before what it was last known to be', () => {
    expect(stationMarkOf(station)).toBe('monitoring');
    expect(stationMarkOf({ ...station, phase: 'feeding' })).toBe('feeding');
    expect(stationMarkOf({ ...station, phase: 'feeding', missesInARow: 1 })).toBe('missed');
    expect(stationMarkOf({ ...station, missesInARow: 2, inService: false })).toBe('removed');
    expect(stationMarkOf({ ...station, phase: 'baited', clearedOn: station.installedOn })).toBe('clear');
    for (const phase of ['monitoring', 'hit', 'feeding', 'baited'] as const)
      expect(STATION_MARK_KINDS).toContain(stationMarkOf({ ...station, phase }));
  });
});
