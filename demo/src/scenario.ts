/**
 * The invented firm: nothing here exists. The town lies in the open ocean on purpose, its state is no state
 * and its postcodes start with 000, so that no record of the demo can be taken for a real one.
 */
export const DEMO_FIRM = { id: 'firm-demo', name: 'Larkspur Hollow Station Service (invented)' } as const;

export const DEMO_BRANCHES = [
  { branch: 'branch-harbour', name: 'Harbour side', timeZone: 'America/New_York' },
  { branch: 'branch-upland', name: 'Upland', timeZone: 'America/New_York' },
] as const;

/** degrees, mid-ocean */
export const TOWN_CENTRE = { latitude: 31.2, longitude: -47.6 } as const;

/** No state has this code. */
export const DEMO_STATE = 'ZZ';

export interface DemoTown {
  readonly name: string;
  readonly postcode: string;
  readonly branch: string;
  /** kilometres from the centre */
  readonly eastKm: number;
  readonly northKm: number;
}

export const TOWNS: readonly DemoTown[] = [
  { name: 'Alder Ferry', postcode: '00011', branch: 'branch-harbour', eastKm: 0, northKm: 0 },
  { name: 'Saltmarsh Point', postcode: '00012', branch: 'branch-harbour', eastKm: 9, northKm: -4 },
  { name: 'Tanner’s Reach', postcode: '00021', branch: 'branch-upland', eastKm: -7, northKm: 11 },
  { name: 'Quarry Bend', postcode: '00022', branch: 'branch-upland', eastKm: 4, northKm: 16 },
];

export const STREETS = [
  'Bellflower Lane',
  'Cooper’s Row',
  'Dockside Walk',
  'Eelgrass Street',
  'Ferryman Road',
  'Gull Court',
  'Hawthorn Close',
  'Juniper Rise',
  'Kiln Street',
  'Lantern Hill',
  'Millrace Road',
  'Nettle Lane',
] as const;

export const HOUSEHOLDS = [
  'Abernook',
  'Brindlemere',
  'Corvale',
  'Dunmarrow',
  'Elderquist',
  'Fennamore',
  'Glasswick',
  'Hollowell-Rue',
  'Inkpenny',
  'Jarrowdale',
  'Kestermoor',
  'Lathbrook',
  'Merrowby',
  'Netherquill',
  'Oxlipson',
  'Pellworthy',
  'Quenberry',
  'Rushmallow',
  'Sedgeholm',
  'Thornapple',
  'Underhay',
  'Varrowfield',
  'Withybourne',
  'Yarrowmead',
] as const;

/** Three places that are no homes. */
export const LARGE_PLACES = [
  'Alder Ferry Village Hall',
  'Saltmarsh Point School',
  'Kiln Street Bakery',
] as const;

export interface DemoPerson {
  readonly id: string;
  readonly name: string;
  readonly role: 'technician' | 'lead' | 'owner' | 'inspector';
  readonly branch: string | null;
  /** Certified applicator's number; null for who applies nothing. */
  readonly certificationNumber: string | null;
  readonly email: string;
}

const person = (
  id: string,
  name: string,
  role: DemoPerson['role'],
  branch: string | null,
  certificationNumber: string | null,
): DemoPerson => ({
  id: `person-${id}`,
  name,
  role,
  branch,
  certificationNumber,
  email: `${id}@demo.invalid`,
});

export const DEMO_PEOPLE: readonly DemoPerson[] = [
  person('owner', 'Isaura Pellworthy', 'owner', null, 'ZZ-0001 (invented)'),
  person('lead', 'Anselm Corvale', 'lead', null, 'ZZ-0002 (invented)'),
  person('harbour', 'Marit Underhay', 'technician', 'branch-harbour', 'ZZ-0003 (invented)'),
  person('upland', 'Osric Fennamore', 'technician', 'branch-upland', 'ZZ-0004 (invented)'),
  person('ferry', 'Linnea Brindlemere', 'technician', 'branch-harbour', 'ZZ-0005 (invented)'),
  person('dock', 'Corwin Glasswick', 'technician', 'branch-harbour', 'ZZ-0006 (invented)'),
  person('point', 'Tamsin Oxlipson', 'technician', 'branch-harbour', 'ZZ-0007 (invented)'),
  person('reach', 'Ottilie Netherquill', 'technician', 'branch-upland', 'ZZ-0008 (invented)'),
  person('quarry', 'Bevis Lathbrook', 'technician', 'branch-upland', 'ZZ-0009 (invented)'),
  person('inspector', 'Record inspector (invented)', 'inspector', null, null),
];

export const ACCESS_NOTES = [
  'Gate on the left, latch sticks.',
  'Dog in the back yard: ring first.',
  'Side gate locked, key box by the meter.',
  'Park on the street; soft verge.',
  'Nobody home before noon.',
  '',
  '',
  '',
] as const;

export const HAZARDS = [
  'Buried power line along the north wall: locate before digging.',
  'Irrigation line behind the east bed.',
  'Wasps seen under caps last summer.',
  'Uneven steps at the rear.',
  '',
  '',
  '',
  '',
] as const;

export const NOT_FOUND_REASONS = [
  'covered by new mulch',
  'bed replanted, no marker',
  'turf grown over',
] as const;
export const BLOCKED_REASONS = [
  'pallet on top',
  'locked enclosure, nobody home',
  'scaffolding on the wall',
] as const;

/** Where and when each technician drives; skills in the invented firm's own words. */
export interface DemoDriver {
  readonly person: string;
  /** kilometres from the centre */
  readonly eastKm: number;
  readonly northKm: number;
  readonly weekdays: readonly number[];
  readonly from: string;
  readonly to: string;
  readonly skills: readonly string[];
}

const WORKWEEK = [1, 2, 3, 4, 5] as const;

export const DEMO_DRIVERS: readonly DemoDriver[] = [
  {
    person: 'person-harbour',
    eastKm: 1.2,
    northKm: 0.8,
    weekdays: WORKWEEK,
    from: '07:30',
    to: '16:00',
    skills: ['drills hard surface', 'school clearance'],
  },
  {
    person: 'person-ferry',
    eastKm: -2.1,
    northKm: -1.4,
    weekdays: WORKWEEK,
    from: '08:00',
    to: '16:30',
    skills: ['drills hard surface'],
  },
  {
    person: 'person-dock',
    eastKm: 7.6,
    northKm: -3.1,
    weekdays: WORKWEEK,
    from: '07:00',
    to: '15:30',
    skills: [],
  },
  {
    person: 'person-point',
    eastKm: 10.4,
    northKm: -5.2,
    weekdays: [1, 2, 4],
    from: '08:00',
    to: '14:00',
    skills: ['school clearance'],
  },
  {
    person: 'person-upland',
    eastKm: -6.2,
    northKm: 10.3,
    weekdays: WORKWEEK,
    from: '07:30',
    to: '16:00',
    skills: ['drills hard surface'],
  },
  {
    person: 'person-reach',
    eastKm: -8.9,
    northKm: 12.5,
    weekdays: [2, 3, 4, 5, 6],
    from: '08:00',
    to: '16:30',
    skills: [],
  },
  {
    person: 'person-quarry',
    eastKm: 4.8,
    northKm: 15.1,
    weekdays: WORKWEEK,
    from: '07:30',
    to: '15:30',
    skills: ['drills hard surface'],
  },
];
