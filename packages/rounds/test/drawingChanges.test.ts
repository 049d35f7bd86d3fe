import { applyEdit, compareSites, moveThing, type Site, takeOverStations } from '@sillwatch/ring';
import { type AnyFact, checkFact, foldProperty } from '@sillwatch/trade';
import { metres } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import { type DrawingChange, listDrawingChanges, type StoringChoices, siteOf } from '../src/index.ts';
import { bodyFact, HOUSE, installed, SURROUNDINGS } from './support/drawnHouse.ts';

const PROPERTY = {
  name: 'An invented house',
  branch: 'branch-1',
  address: { street: '', town: '', state: '', postcode: '' },
  customer: { name: '', email: null, phone: null },
  timeZone: 'America/New_York',
  profile: 'profile-1',
  agreement: null,
  accessNotes: '',
  hazards: '',
  position: null,
};
const FACTS: readonly AnyFact[] = [
  bodyFact('property added', null, PROPERTY, 1),
  bodyFact('structure added', null, HOUSE, 2),
  bodyFact('structure added', null, { ...HOUSE, structure: 'undrawn', outline: null, holes: [] }, 3),
  installed('s1', 1, [-0.6, 4], 4),
];
const ALL: StoringChoices = {
  whyRemoved: 'pulled down',
  whyMoved: 'measured anew',
  installed: { model: 'two-part', inserts: [{ slot: 'base', insert: 'monitor' }] },
};
const NONE: StoringChoices = { whyRemoved: null, whyMoved: null, installed: null };

const before = foldProperty(FACTS);

function stored(changes: readonly DrawingChange[]) {
  return foldProperty([
    ...FACTS,
    ...changes.map(({ kind, station, body }, index) => bodyFact(kind, station, body, 50 + index)),
  ]);
}

/** Everything that a drawing can hold, a moved and a new station, a position, and no house any more but a shed. */
const drawn: Site = {
  ...siteOf(stored([{ kind: 'site drawn', station: null, body: SURROUNDINGS }])),
  georeference: { longitude: -84.39, latitude: 33.75 },
  structures: [
    {
      id: 'shed',
      name: 'Shed',
      foundation: 'pier',
      outline: [
        { x: 0, y: 0 },
        { x: 3, y: 0 },
        { x: 3, y: 3 },
      ],
      holes: [],
    },
  ],
  stations: [
    { id: 's1', number: 1, at: { x: -0.9, y: 4 }, structureId: 'house' },
    { id: 'new', number: 2, at: { x: 4, y: 1 }, structureId: 'shed' },
  ],
  gates: [{ id: 'back', at: { x: 6, y: 14 }, widthMetres: metres(1) }],
};

describe('what a drawing stores', () => {
  it('is nothing where nothing differs', () => {
    expect(listDrawingChanges(before, siteOf(before), ALL)).toEqual([]);
  });

  it('is facts that pass every check and give the drawing back', () => {
    const changes = listDrawingChanges(before, drawn, ALL);
    for (const { kind, station, body } of changes)
      expect(checkFact(bodyFact(kind, station, body, 90))).toEqual([]);
    const after = stored(changes);
    expect(compareSites(siteOf(after), drawn)).toEqual([]);
    expect(siteOf(after).georeference).toEqual(drawn.georeference);
    expect(listDrawingChanges(after, drawn, ALL)).toEqual([]);
    expect(after.passedOver).toEqual([]);
  });

  it('moves, sets and removes nothing unless told so', () => {
    const kinds = listDrawingChanges(before, drawn, NONE).map(({ kind }) => kind);
    expect(kinds.toSorted()).toEqual(['property changed', 'site drawn', 'structure added']);
  });

  it('never takes off a structure that was entered without an outline', () => {
    const removed = listDrawingChanges(before, drawn, ALL).flatMap((change) =>
      change.kind === 'structure removed' ? [change.body.structure] : [],
    );
    expect(removed).toEqual(['house']);
  });

  it('records one fact for one thing that was moved', () => {
    const site = siteOf(before);
    const moved = moveThing(site, 'house', 1, 0);
    const taken = takeOverStations(site, [{ id: 'n', at: { x: 6, y: -0.5 } }]);
    if (!moved.ok || !taken.ok) throw new Error('both can be done');
    expect(listDrawingChanges(before, applyEdit(site, moved.edit), ALL)).toHaveLength(1);
    const [fact] = listDrawingChanges(before, applyEdit(site, taken.edit), ALL);
    expect(fact).toMatchObject({
      kind: 'station installed',
      station: 'n',
      body: { number: 2, structure: 'house' },
    });
  });
});
