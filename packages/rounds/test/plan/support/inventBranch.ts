import {
  addDays,
  type Day,
  DEMO_PROFILE,
  type PropertyState,
  STATION_MODELS,
  type StationState,
  type TechnicianBody,
} from '@sillwatch/trade';
import { greatCircleTravel, type PlanInput } from '../../../src/index.ts';

/**
 * A made-up branch in mid-ocean: properties in twelve clusters within 60 km, 8 to 25 stations each, last looked at 0 to 4 months
 * ago and served 1 to 14, every eighth with a station on bait, some with hours of their own. By a congruence: always the same.
 */
export function inventBranch(properties: number, technicians: number, days: number, from: Day): PlanInput {
  let state = 12_345;
  const random = (): number => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fffffff;
    return (state >>> 8) / 0x800000;
  };
  const pick = (low: number, high: number): number => low + Math.floor(random() * (high - low + 1));
  const place = (eastKm: number, northKm: number) => ({
    latitude: 31 + northKm / 111.2,
    longitude: -47 + eastKm / 95.3,
  });
  const towns = Array.from({ length: 12 }, () => ({ east: 60 * random(), north: 60 * random() }));
  const near = () => {
    const town = towns[pick(0, towns.length - 1)] ?? { east: 0, north: 0 };
    return place(town.east + 8 * (random() + random() - 1), town.north + 8 * (random() + random() - 1));
  };
  const states = Array.from({ length: properties }, (_, index): PropertyState => {
    const property = `property-${String(index).padStart(5, '0')}`;
    const installedOn = addDays(from, -pick(500, 1500));
    const lastOpenedOn = addDays(from, -pick(0, 115));
    const lastYearlyOn = addDays(from, -pick(30, 420));
    const isBaited = random() < 0.125;
    const stations = Array.from({ length: pick(8, 25) }, (_, n): StationState => {
      const baited = isBaited && n === 3;
      return {
        station: `${property}-s${n}`,
        property,
        structure: 'house',
        number: n + 1,
        tag: null,
        model: 'two-part',
        position: null,
        auxiliary: false,
        inService: true,
        installedOn,
        slots: [],
        lastOpenedOn: baited ? addDays(from, -pick(0, 50)) : lastOpenedOn,
        lastYearlyOn,
        phase: baited ? 'baited' : 'monitoring',
        firstHitOn: baited ? addDays(from, -80) : null,
        openHitOn: baited ? addDays(from, -80) : null,
        feedingSince: null,
        feedingLastSeenOn: null,
        feedingEndedOn: null,
        baitedOn: baited ? addDays(from, -80) : null,
        baitLeft: baited ? 'half' : 'no bait',
        termiteFreeLooks: baited ? 1 : 0,
        termiteFreeOn: baited ? [addDays(from, -50)] : [],
        clearedOn: null,
        carriedOverOn: null,
        missesInARow: 0,
        missedSince: null,
        disturbedWhileFeeding: false,
        doubtfulClocks: [],
      };
    });
    return {
      property,
      body: {
        name: property,
        branch: 'branch',
        address: { street: '', town: '', state: 'ZZ', postcode: '00000' },
        customer: { name: property, email: null, phone: null },
        timeZone: 'America/New_York',
        profile: DEMO_PROFILE.id,
        agreement: null,
        accessNotes: '',
        hazards: '',
        position: near(),
        ...(random() < 0.1 ? { visitHours: { weekdays: [1, 2, 3, 4, 5], from: '08:00', to: '12:00' } } : {}),
      },
      structures: [],
      stations,
      visits: [],
      site: null,
      asks: [],
      promise: null,
      papersSent: [],
      links: [],
      passedOver: [],
    };
  });
  const people = Array.from({ length: technicians }, (_, n): TechnicianBody => {
    const home = near();
    return {
      person: `person-${n}`,
      name: `Technician ${n} (invented)`,
      branch: 'branch',
      licenceNumber: null,
      start: home,
      end: home,
      hours: [1, 2, 3, 4, 5].map((weekday) => ({ weekday, from: '08:00', to: '16:30' })),
      breakMinutes: 30,
      mostOvertimeMinutes: 60,
      skills: [],
      active: true,
    };
  });
  return {
    properties: states,
    firm: {
      profiles: { [DEMO_PROFILE.id]: DEMO_PROFILE },
      models: Object.fromEntries(STATION_MODELS.map((model) => [model.id, model])),
      branches: { branch: { branch: 'branch', name: 'Branch (invented)', timeZone: 'America/New_York' } },
      technicians: Object.fromEntries(people.map((body) => [body.person, body])),
      away: [],
      closed: [],
      parts: {},
      soilSeasons: {},
      links: [],
    },
    branch: 'branch',
    from,
    days,
    rounds: [],
    lastPerson: Object.fromEntries(states.map(({ property }, n) => [property, `person-${n % technicians}`])),
    travel: greatCircleTravel(),
    clock: () => -300,
  };
}
