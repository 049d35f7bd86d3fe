import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { auditRing, type Point, proposeStations, type Site } from '../../src/index.ts';
import {
  BLUNT,
  houseOf,
  points,
  RULES,
  rectangle,
  SHAPES,
  seeded,
  withObstacles,
} from '../placement/support/sites.ts';

function withStations(site: Site, places: readonly Point[]): Site {
  return { ...site, stations: places.map((at, index) => ({ id: `s${index + 1}`, number: index + 1, at })) };
}

function mended(site: Site): Site {
  const { changes } = auditRing(site, RULES);
  const to = new Map(
    changes.flatMap((change) => (change.kind === 'move' ? [[change.stationId, change.to] as const] : [])),
  );
  const kept = site.stations.map(({ id, at }) => to.get(id) ?? at);
  return withStations(site, [
    ...kept,
    ...changes.flatMap((change) => (change.kind === 'add' ? [change.at] : [])),
  ]);
}

const house = houseOf(rectangle(0, 0, 12, 8));
const ring = proposeStations(house, RULES).stations.map(({ at }) => at);

/** What is proposed for a site, and what an audit says once the stations stand there. */
function auditAsProposed(site: Site) {
  const proposal = proposeStations(site, RULES);
  const places = proposal.stations.map(({ at }) => at);
  return { proposal, audit: auditRing(withStations(site, places), RULES) };
}

const anySiteOf = (shapes: Readonly<Record<string, Site>>) =>
  fc
    .record({
      name: fc.constantFrom(...Object.keys(shapes)),
      seed: fc.integer({ min: 1, max: 100_000 }),
      count: fc.integer({ min: 0, max: 4 }),
    })
    .map(({ name, seed, count }) => withObstacles(shapes[name] ?? house, seeded(seed), count));
const anySite = anySiteOf(SHAPES);

/** A notch of 1 m in a house, and a patio across it that leaves 2 cm of the setback band free where both its corners are equally near. */
const notch: Site = {
  ...houseOf(points('0,0 10,0 10,9 6,9 6,2 5,2 5,9 0,9')),
  hardSurfaces: [{ id: 'patio', kind: 'patio', outline: rectangle(4.7625, 7.6721, 2.475, 2.39808) }],
};

describe('an audit', () => {
  it('finds nothing to change in a ring as proposed, round any site', () => {
    fc.assert(
      fc.property(anySite, (site) => {
        const { proposal, audit } = auditAsProposed(site);
        expect(audit.changes).toEqual([]);
        expect(Math.abs(audit.unguardedMetres - proposal.unguardedMetres)).toBeLessThan(0.2);
        expect(audit.stations.every(({ setback }) => setback === 'in_band')).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it('leaves a station past a patio across a narrow notch, where two corners are equally near', () => {
    const { stations, unguardedMetres } = proposeStations(notch, RULES);
    const places = stations.map(({ at }) => at);
    const past = places.findIndex(({ x, y }) => Math.abs(x - 5.5) < 0.01 && y > 10);
    expect(past).toBeGreaterThan(0);
    const audit = auditRing(withStations(notch, places), RULES);
    expect(audit.changes).toEqual([]);
    expect(audit.stations[past]?.alongMetres).toBeCloseTo(stations[past]?.alongMetres ?? 0, 4);
    expect(Math.abs(audit.unguardedMetres - unguardedMetres)).toBeLessThan(0.01);
    for (const x of [5.49, 5.499, 5.5, 5.501, 5.51]) {
      const set = places.map((at, index) => (index === past ? { ...at, x } : at));
      expect(auditRing(withStations(notch, set), RULES).changes).toEqual([]);
    }
  });

  it('leaves a station set a centimetre off beside a patio whose edge runs square to the line', () => {
    const bay = SHAPES['bay'] ?? house;
    const outline = rectangle(3.69993749, -2.4814, 3.8291638, 3.9363);
    const paved: Site = { ...bay, hardSurfaces: [{ id: 'patio', kind: 'patio', outline }] };
    const places = proposeStations(paved, RULES).stations.map(({ at }) => at);
    for (let step = 0; step < 24; step++) {
      const angle = (step * Math.PI) / 12;
      const set = places.map(({ x, y }) => ({
        x: x + 0.01 * Math.cos(angle),
        y: y + 0.01 * Math.sin(angle),
      }));
      expect(auditRing(withStations(paved, set), RULES).changes).toEqual([]);
    }
  });

  it('names the position that a station stands on, and not one beside it whose free ground ends there', () => {
    const tee: Site = {
      ...houseOf(points('0,0 15,0 15,5 10,5 10,12 5,12 5,5 0,5')),
      hardSurfaces: [{ id: 'patio', kind: 'patio', outline: rectangle(9.6, 3.77, 2.46, 2.03) }],
    };
    const { proposal, audit } = auditAsProposed(tee);
    audit.stations.forEach(({ alongMetres }, index) => {
      expect(alongMetres).toBeCloseTo(proposal.stations[index]?.alongMetres ?? 0, 4);
    });
  });

  it('finds every proposed station before the position that it was proposed for', () => {
    fc.assert(
      fc.property(anySiteOf({ ...SHAPES, ...BLUNT }), (site) => {
        const {
          proposal: { stations, lines },
          audit,
        } = auditAsProposed(site);
        expect(audit.changes).toEqual([]);
        audit.stations.forEach(({ line, alongMetres }, index) => {
          const proposed = stations[index];
          expect(line).toBe(proposed?.line);
          const turn = lines[line ?? 0]?.lengthMetres ?? 0;
          const apart = Math.abs(alongMetres - (proposed?.alongMetres ?? 0));
          expect(Math.min(apart, turn - apart)).toBeLessThan(1e-4);
        });
      }),
      { numRuns: 200 },
    );
  });

  it('finds nothing to change where each station was set within a centimetre of its place', () => {
    fc.assert(
      fc.property(anySiteOf({ ...SHAPES, ...BLUNT }), fc.integer({ min: 1, max: 100_000 }), (site, seed) => {
        const random = seeded(seed);
        const places = proposeStations(site, RULES).stations.map(({ at }) => {
          const angle = 2 * Math.PI * random();
          return { x: at.x + 0.01 * Math.cos(angle), y: at.y + 0.01 * Math.sin(angle) };
        });
        expect(auditRing(withStations(site, places), RULES).changes).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  it('finds nothing to change in a ring as proposed among points of concern, near the walls and far from them', () => {
    const spot = fc.tuple(
      fc.double({ min: -8, max: 24, noNaN: true }),
      fc.double({ min: -8, max: 18, noNaN: true }),
    );
    fc.assert(
      fc.property(anySite, fc.array(spot, { minLength: 1, maxLength: 5 }), (bare, spots) => {
        const concerns = spots.map(
          ([x, y], index) => ({ id: `c${index}`, kind: 'stump', at: { x, y } }) as const,
        );
        const site: Site = { ...bare, concerns };
        const { proposal, audit } = auditAsProposed(site);
        expect(audit.changes).toEqual([]);
        expect(audit.concernsWithoutStation).toEqual(
          proposal.concernsOutOfReach.map(({ concernId }) => concernId),
        );
      }),
      { numRuns: 100 },
    );
  });

  it('leaves a station beside a stump far from the house, and moves it once the stump is gone', () => {
    const at = { x: 30, y: 4 };
    const stumped: Site = {
      ...withStations(house, [...ring, at]),
      concerns: [{ id: 'stump', kind: 'stump', at }],
    };
    const audit = auditRing(stumped, RULES);
    expect(audit.stations.at(-1)).toMatchObject({ setback: 'too_far', concernId: 'stump' });
    expect(audit.changes).toEqual([]);
    expect(auditRing({ ...stumped, concerns: [] }, RULES).changes.map(({ kind }) => kind)).toEqual(['move']);
  });

  it('names the wall behind a missing station and adds it', () => {
    const audit = auditRing(withStations(house, ring.slice(1)), RULES);
    expect(audit.unguarded.length).toBe(1);
    expect(audit.unguarded[0]?.why).toEqual([{ kind: 'no_station' }]);
    expect(audit.unguarded[0]?.remedies).toEqual([{ kind: 'add_station' }]);
    expect(audit.unguardedMetres).toBeGreaterThan(1);
    expect(audit.changes.map(({ kind }) => kind)).toEqual(['add']);
    expect(audit.unguardableMetres).toBe(0);
  });

  it('takes stations a hair over the spacing apart, and ground that pauses for as much', () => {
    for (const hair of [0, 1e-10, 1e-9, 6e-9, 5e-8, 1e-7, 2e-7, 1e-6]) {
      const two = [
        { x: 2, y: -0.75 },
        { x: 5 + hair, y: -0.75 },
      ];
      const audit = auditRing(withStations(house, two), RULES);
      expect(audit.stations.map(({ isRedundant }) => isRedundant)).toEqual([false, false]);
      const paved: Site = {
        ...house,
        hardSurfaces: [{ id: 'patio', kind: 'patio', outline: rectangle(3, -3, 3 + hair, 4) }],
      };
      expect(proposeStations(paved, RULES).unguardedMetres).toBeLessThan(0.001);
    }
  });

  it('calls a station between two neighbours redundant, and moves it where one is missing', () => {
    const [a = { x: 0, y: 0 }, b = a] = ring.slice(4);
    const between = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
    const full = auditRing(withStations(house, [...ring, between]), RULES);
    expect(full.stations.filter(({ isRedundant }) => isRedundant).length).toBe(1);
    expect(full.changes).toEqual([]);
    const gappy = auditRing(withStations(house, [...ring.slice(1), between]), RULES);
    expect(gappy.changes.map(({ kind }) => kind)).toEqual(['move']);
  });

  it('says too close and too far, and moves those stations', () => {
    const audit = auditRing(withStations(house, [...ring, { x: 6, y: -0.1 }, { x: 6, y: -4 }]), RULES);
    expect(audit.stations.slice(-2).map(({ setback }) => setback)).toEqual(['too_close', 'too_far']);
    expect(audit.stations[audit.stations.length - 1]?.wallMetres).toBeCloseTo(4, 6);
    expect(audit.changes.map(({ kind }) => kind)).toEqual(['move', 'move']);
  });

  it('mends any ring so that only what the ground forbids stays unguarded, and a second audit is content', () => {
    fc.assert(
      fc.property(
        anySite,
        fc.array(fc.nat(1000), { maxLength: 12 }),
        fc.integer({ min: 1, max: 100_000 }),
        (site, dropped, seed) => {
          const random = seeded(seed);
          const places = proposeStations(site, RULES)
            .stations.map(({ at }) => at)
            .filter((_, index) => !dropped.some((drop) => drop % 20 === index % 20))
            .map(({ x, y }) => ({ x: x + (random() - 0.5) * 0.6, y: y + (random() - 0.5) * 0.6 }));
          const site2 = withStations(site, places);
          const before = auditRing(site2, RULES);
          const after = auditRing(mended(site2), RULES);
          expect(Math.abs(after.unguardedMetres - before.unguardableMetres)).toBeLessThan(0.2);
          expect(after.changes).toEqual([]);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('needs as many changes as were stations taken away at random from a tight ring, at most', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(ring.length - 1), { maxLength: 8 }), (dropped) => {
        const left = ring.filter((_, index) => !dropped.includes(index));
        expect(auditRing(withStations(house, left), RULES).changes.length).toBeLessThanOrEqual(
          dropped.length,
        );
      }),
    );
  });

  it('removes what it calls redundant without loss', () => {
    fc.assert(
      fc.property(anySite, fc.integer({ min: 1, max: 100_000 }), (site, seed) => {
        const random = seeded(seed);
        const proposal = proposeStations(site, RULES);
        const doubled = proposal.stations.flatMap(({ at }) => [
          at,
          { x: at.x + random() * 0.2, y: at.y + random() * 0.2 },
        ]);
        const crowded = withStations(site, doubled);
        const before = auditRing(crowded, RULES);
        const redundant = new Set(
          before.stations.filter(({ isRedundant }) => isRedundant).map(({ stationId }) => stationId),
        );
        const lean = { ...crowded, stations: crowded.stations.filter(({ id }) => !redundant.has(id)) };
        const after = auditRing(lean, RULES);
        expect(after.unguardedMetres).toBeLessThanOrEqual(before.unguardedMetres + 1e-3);
        expect(after.stations.some(({ isRedundant }) => isRedundant)).toBe(false);
      }),
      { numRuns: 100 },
    );
  });
});
