import {
  type AnyFact,
  addMonths,
  type Day,
  DEMO_PROFILE,
  dayToText,
  type FittedInsert,
  type Place,
  type PropertyBody,
  STATION_MODELS,
  type StationModel,
} from '@sillwatch/trade';
import { inventOutline, type Outline, offsetOutline, pointsAlong } from './houses.ts';
import type { Chance } from './random.ts';
import { momentText, type Recorder } from './recorder.ts';
import {
  ACCESS_NOTES,
  DEMO_BRANCHES,
  DEMO_PEOPLE,
  DEMO_STATE,
  type DemoPerson,
  type DemoTown,
  HAZARDS,
  HOUSEHOLDS,
  LARGE_PLACES,
  STREETS,
  TOWN_CENTRE,
  TOWNS,
} from './scenario.ts';

export interface DemoPlace {
  readonly property: string;
  readonly address: string;
  readonly timeZone: string;
  readonly technician: DemoPerson;
  readonly installedOn: Day;
  readonly nextStationNumber: { value: number };
}

const SETBACK_METRES = 0.6;
const SPACING_METRES = 3.8;
const KM_PER_DEGREE = 111.32;

/** Records a property, its one or two structures and their rings; returns what the visits need to go on. */
export function installProperty(
  chance: Chance,
  recorder: Recorder,
  index: number,
  installedOn: Day,
): DemoPlace {
  const town = TOWNS[index % TOWNS.length] ?? chance.pick(TOWNS);
  const branch = DEMO_BRANCHES.find((candidate) => candidate.branch === town.branch) ?? DEMO_BRANCHES[0];
  const technicians = DEMO_PEOPLE.filter((person) => person.branch === branch.branch);
  const technician =
    technicians[Math.floor(index / TOWNS.length) % technicians.length] ?? chance.pick(DEMO_PEOPLE);
  const large = LARGE_PLACES[index - 3];
  const household = HOUSEHOLDS[index % HOUSEHOLDS.length] ?? 'Abernook';
  const name = large ?? `${household} household`;
  const property = `property-${String(index + 1).padStart(3, '0')}`;
  const street = `${chance.int(1, 190)} ${chance.pick(STREETS)}`;
  const { timeZone } = branch;
  const at = (minutes: number): string => momentText(installedOn, minutes, timeZone);
  const subject = { property, station: null };

  recorder.record('property added', subject, at(8 * 60), 'person-lead', {
    name,
    branch: branch.branch,
    address: { street, town: town.name, state: DEMO_STATE, postcode: town.postcode },
    customer: { name, email: `customer-${index + 1}@demo.invalid`, phone: null },
    timeZone,
    profile: DEMO_PROFILE.id,
    agreement: { startsOn: dayToText(installedOn), renewsOn: dayToText(renewalAfter(installedOn, index)) },
    accessNotes: chance.pick(ACCESS_NOTES),
    hazards: chance.pick(HAZARDS),
    position: placeInTown(chance, town),
    ...visitingOf(index, name),
  });

  const next = { value: 1 };
  let minutes = 8 * 60 + 30;
  const setRing = (structure: string, structureName: string, outline: Outline, shift: number): void => {
    const moved = outline.map(([x, y]) => [x + shift, y] as const);
    recorder.record('structure added', subject, at(minutes), technician.id, {
      structure,
      name: structureName,
      foundation: chance.pick(['slab', 'slab', 'crawl space', 'basement']),
      outline: moved,
    });
    for (const position of pointsAlong(offsetOutline(moved, SETBACK_METRES), SPACING_METRES)) {
      minutes += 5;
      installStation(
        chance,
        recorder,
        { property, structure, number: next.value, position, model: pickModel(index) },
        at(minutes),
        technician.id,
      );
      next.value += 1;
    }
  };
  const house = inventOutline(chance, large !== undefined);
  setRing(`${property}-house`, large === undefined ? 'House' : 'Main building', house, 0);
  if (large === undefined && chance.happens(0.12)) {
    const width = Math.max(...house.map(([x]) => x));
    setRing(
      `${property}-garage`,
      'Garage',
      [
        [0, 0],
        [6, 0],
        [6, 6],
        [0, 6],
      ],
      width + 6,
    );
  }
  return {
    property,
    address: `${street}, ${town.name}`,
    timeZone,
    technician,
    installedOn,
    nextStationNumber: next,
  };
}

export interface NewStation {
  readonly property: string;
  readonly structure: string;
  readonly number: number;
  readonly position: readonly [number, number] | null;
  readonly model: StationModel;
  readonly auxiliary?: boolean;
  readonly visit?: string;
}

export function installStation(
  chance: Chance,
  recorder: Recorder,
  station: NewStation,
  at: string,
  by: string,
): AnyFact {
  const id = `${station.property}-s${String(station.number).padStart(2, '0')}`;
  return recorder.record('station installed', { property: station.property, station: id }, at, by, {
    structure: station.structure,
    number: station.number,
    tag: `ZZ${String(chance.int(0, 0xff_ff_ff)).padStart(8, '0')}`,
    model: station.model.id,
    position: station.position,
    auxiliary: station.auxiliary ?? false,
    visit: station.visit ?? null,
    inserts: monitorsOf(station.model),
    application: null,
  });
}

/** A monitor in each slot that takes one. */
export function monitorsOf(model: StationModel): readonly FittedInsert[] {
  return model.slots
    .filter((slot) => slot.holds.includes('monitor'))
    .map((slot) => ({ slot: slot.id, insert: 'monitor' as const }));
}

/** Every fifth property has one-part stations, the others two-part ones. */
function pickModel(index: number): StationModel {
  const wanted = index % 5 === 4 ? 'one-part' : 'two-part';
  const model = STATION_MODELS.find((candidate) => candidate.id === wanted);
  if (model === undefined) throw new Error(`no station model ${wanted}`);
  return model;
}

function placeInTown(chance: Chance, town: DemoTown): Place {
  const northKm = town.northKm + (chance.fraction() - 0.5) * 3;
  const eastKm = town.eastKm + (chance.fraction() - 0.5) * 3;
  return placeAt(eastKm, northKm);
}

/** From kilometres beside the invented town's centre to degrees. */
export function placeAt(east: number, north: number): Place {
  const latitude = TOWN_CENTRE.latitude + north / KM_PER_DEGREE;
  const longitude =
    TOWN_CENTRE.longitude + east / (KM_PER_DEGREE * Math.cos((TOWN_CENTRE.latitude * Math.PI) / 180));
  return { latitude: Number(latitude.toFixed(6)), longitude: Number(longitude.toFixed(6)) };
}

/** Every sixth household is at home at certain hours only; the school lets in who has its clearance, in the afternoon. */
function visitingOf(index: number, name: string): Pick<PropertyBody, 'visitHours' | 'skills'> {
  if (name.endsWith('School'))
    return {
      visitHours: { weekdays: [1, 2, 3, 4, 5], from: '13:00', to: '16:00' },
      skills: ['school clearance'],
    };
  switch (index % 12) {
    case 5:
      return { visitHours: { weekdays: [1, 2, 3, 4, 5], from: '12:00', to: '16:30' } };
    case 11:
      return { visitHours: { weekdays: [2, 4], from: '08:00', to: '12:00' } };
    default:
      return {};
  }
}

/** Agreements run by the year; most have been renewed since. */
function renewalAfter(installedOn: Day, index: number): Day {
  return addMonths(installedOn, 12 * (1 + (index % 4)));
}
