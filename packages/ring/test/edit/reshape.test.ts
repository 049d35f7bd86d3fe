import { describe, expect, it } from 'vitest';
import {
  addCourtyard,
  applyEdit,
  bringIn,
  describeThing,
  drawThing,
  type EditResult,
  moveCorner,
  removeCorner,
  removeThing,
  type Site,
  setWallLength,
  splitWall,
  takeOverStations,
  turnThing,
} from '../../src/index.ts';
import { houseOf, points, rectangle } from '../placement/support/sites.ts';

const HOUSE = houseOf(rectangle(0, 0, 10, 8));

function after(site: Site, result: EditResult): Site {
  if (!result.ok) throw new Error(result.fault);
  return applyEdit(site, result.edit);
}

const outlineOf = (site: Site) => site.structures[0]?.outline;

describe('walls and corners', () => {
  it('keeps a right-angled house right-angled when a wall gets its measured length', () => {
    const wall = { id: 'house', ring: 0, index: 0 };
    expect(outlineOf(after(HOUSE, setWallLength(HOUSE, wall, 12)))).toEqual(rectangle(0, 0, 12, 8));
    const ell = houseOf(points('0,0 12,0 12,5 6,5 6,11 0,11'));
    expect(outlineOf(after(ell, setWallLength(ell, { ...wall, index: 2 }, 4)))).toEqual(
      points('0,0 12,0 12,5 8,5 8,11 0,11'),
    );
  });

  it('splits a wall where it was pointed at and takes a corner away', () => {
    const split = after(HOUSE, splitWall(HOUSE, { id: 'house', ring: 0, index: 3 }, { x: -1, y: 6 }));
    expect(outlineOf(split)).toEqual([...rectangle(0, 0, 10, 8), { x: 0, y: 6 }]);
    expect(outlineOf(after(split, removeCorner(split, { id: 'house', ring: 0, index: 4 })))).toEqual(
      outlineOf(HOUSE),
    );
  });

  it('leaves three corners, and takes a courtyard away with its third', () => {
    const three = after(HOUSE, removeCorner(HOUSE, { id: 'house', ring: 0, index: 0 }));
    expect(removeCorner(three, { id: 'house', ring: 0, index: 0 })).toEqual({
      ok: false,
      fault: 'too few corners',
    });
    const yard = after(HOUSE, addCourtyard(HOUSE, 'house', points('3,3 6,3 6,5')));
    expect(yard.structures[0]?.holes).toHaveLength(1);
    expect(after(yard, removeCorner(yard, { id: 'house', ring: 1, index: 1 })).structures[0]?.holes).toEqual(
      [],
    );
  });

  it('turns clockwise about the middle', () => {
    const turned = outlineOf(after(HOUSE, turnThing(HOUSE, 'house', 90)));
    expect(turned?.[0]?.x).toBeCloseTo(1, 9);
    expect(turned?.[0]?.y).toBeCloseTo(9, 9);
  });

  it.each([
    ['no such thing', moveCorner(HOUSE, { id: 'shed', ring: 0, index: 0 }, { x: 0, y: 0 })],
    ['not a number', moveCorner(HOUSE, { id: 'house', ring: 0, index: 0 }, { x: Number.NaN, y: 0 })],
    ['too far away', moveCorner(HOUSE, { id: 'house', ring: 0, index: 0 }, { x: 6000, y: 0 })],
    ['nothing changes', moveCorner(HOUSE, { id: 'house', ring: 0, index: 0 }, { x: 0, y: 0 })],
    ['wall too short', setWallLength(HOUSE, { id: 'house', ring: 0, index: 0 }, 0)],
    ['wall too short', splitWall(HOUSE, { id: 'house', ring: 0, index: 0 }, { x: 0, y: 0 })],
    ['not a number', splitWall(HOUSE, { id: 'house', ring: 0, index: 0 }, { x: 0, y: Number.NaN })],
    ['does not fit', addCourtyard(HOUSE, 'house', rectangle(9, 7, 4, 4))],
  ])('refuses: %s', (fault, result) => {
    expect(result).toEqual({ ok: false, fault });
  });
});

describe('things', () => {
  const ring: Site = {
    ...HOUSE,
    stations: [{ id: 's1', number: 1, at: { x: -0.6, y: 4 }, structureId: 'house' }],
  };

  it('leaves a station that stands in the ground, and the structure that it stands round', () => {
    expect(removeThing(ring, 's1', new Set(['s1']))).toEqual({ ok: false, fault: 'in the ground' });
    expect(removeThing(ring, 'house', new Set(['s1']))).toEqual({ ok: false, fault: 'stations round it' });
    expect(after(ring, removeThing(ring, 'house', new Set())).stations).toEqual([]);
  });

  it('numbers what is taken over on from the ring, and touches no station that stands', () => {
    const two = after(
      ring,
      takeOverStations(ring, [
        { id: 'a', at: { x: 5, y: -0.6 } },
        { id: 'b', at: { x: 10.6, y: 4 } },
      ]),
    );
    expect(two.stations).toEqual([
      ...ring.stations,
      { id: 'a', number: 2, at: { x: 5, y: -0.6 }, structureId: 'house' },
      { id: 'b', number: 3, at: { x: 10.6, y: 4 }, structureId: 'house' },
    ]);
  });

  it('leaves the numbers of stations that have no place on the drawing', () => {
    const place = { id: 'a', at: { x: 5, y: -0.6 } };
    const taken = after(ring, takeOverStations(ring, [place], new Map([['house', 14]])));
    expect(taken.stations.map(({ number }) => number)).toEqual([1, 15]);
  });

  it('brings another drawing in beside this one and gives a taken id anew', () => {
    const other = { ...houseOf(rectangle(20, 0, 4, 4)), georeference: { longitude: 7, latitude: 45 } };
    const both = after(
      HOUSE,
      bringIn(HOUSE, other, () => 'fresh'),
    );
    expect(both.structures.map(({ id }) => id)).toEqual(['house', 'fresh']);
    expect(both.georeference).toEqual({ longitude: 7, latitude: 45 });
  });

  it('refuses a thing with corners missing, an id that is taken, a gate of no width', () => {
    const [house] = HOUSE.structures;
    if (house === undefined) throw new Error('there is a house');
    expect(drawThing(HOUSE, { layer: 'structures', value: house })).toMatchObject({ fault: 'same id twice' });
    const value = { ...house, id: 'other', outline: rectangle(0, 0, 1, 1).slice(0, 2) };
    expect(drawThing(HOUSE, { layer: 'structures', value })).toMatchObject({ fault: 'too few corners' });
    const gate = { layer: 'gates', value: { id: 'g', at: { x: 0, y: 0 }, widthMetres: 1 } } as never;
    const gated = after(HOUSE, drawThing(HOUSE, gate));
    const shut = { layer: 'gates', value: { id: 'g', at: { x: 0, y: 0 }, widthMetres: 0 } } as never;
    expect(describeThing(gated, shut)).toMatchObject({ fault: 'length out of range' });
  });
});
