import type {
  BaitLeft,
  Day,
  Finding,
  HousingCondition,
  MonitorCondition,
  Occupants,
  StationState,
} from '@sillwatch/trade';
import { addDays, civilFromDay } from '@sillwatch/trade';
import type { Chance } from './random.ts';
import { BLOCKED_REASONS, NOT_FOUND_REASONS } from './scenario.ts';

/** What is true in the soil and what nobody knows: the demo's findings are drawn from it. */
export interface Soil {
  /** chance that termites enter a monitor between two quarterly looks */
  readonly pressure: number;
  /** by station: until when termites come to it */
  readonly foragingUntil: Map<string, Day>;
  /** stations that nobody will find again */
  readonly lost: Set<string>;
}

export function createSoil(chance: Chance): Soil {
  const pressure = chance.happens(0.55) ? 0.001 : chance.pick([0.008, 0.014, 0.026]);
  return { pressure, foragingUntil: new Map(), lost: new Set() };
}

/** What a look at this station on this day finds. */
export function drawFinding(chance: Chance, soil: Soil, state: StationState, day: Day): Finding {
  if (!soil.lost.has(state.station) && chance.happens(0.0025)) soil.lost.add(state.station);
  if (soil.lost.has(state.station)) return { reach: 'not found', why: chance.pick(NOT_FOUND_REASONS) };
  if (chance.happens(0.008)) return { reach: 'blocked', why: chance.pick(BLOCKED_REASONS) };
  return {
    reach: 'opened',
    ...drawTermites(chance, soil, state, day),
    housing: drawHousing(chance),
    occupants: drawOccupants(chance, day),
  };
}

function drawTermites(
  chance: Chance,
  soil: Soil,
  state: StationState,
  day: Day,
): {
  readonly termites: 'none' | 'signs only' | 'live on monitor' | 'live on bait';
  readonly baitLeft: BaitLeft;
  readonly monitor: MonitorCondition;
} {
  const holdsBait = state.slots.some((slot) => slot.insert === 'bait');
  const until = soil.foragingUntil.get(state.station);
  const isForaging = until !== undefined && day <= until;
  const monitor = drawMonitor(chance, isForaging);
  if (holdsBait) {
    const baitLeft = isForaging
      ? chance.pick(['three quarters', 'half', 'a quarter', 'gone'] as const)
      : chance.pick(['full', 'three quarters', 'half'] as const);
    return { termites: isForaging ? 'live on bait' : 'none', baitLeft, monitor };
  }
  const warm = seasonFactor(day);
  if (isForaging || chance.happens(soil.pressure * warm)) {
    soil.foragingUntil.set(state.station, addDays(day, chance.int(50, 260)));
    return { termites: 'live on monitor', baitLeft: 'no bait', monitor: 'eaten' };
  }
  const signs = chance.happens(soil.pressure * 0.6);
  return { termites: signs ? 'signs only' : 'none', baitLeft: 'no bait', monitor };
}

/** Foraging follows soil warmth: about twice as many hits in May to September as in December to February. */
function seasonFactor(day: Day): number {
  const { month } = civilFromDay(day);
  return 1 + 0.35 * Math.cos(((month - 7) / 12) * 2 * Math.PI);
}

function drawMonitor(chance: Chance, isForaging: boolean): MonitorCondition {
  if (isForaging) return 'eaten';
  const luck = chance.fraction();
  if (luck < 0.9) return 'sound';
  if (luck < 0.96) return 'rotten';
  if (luck < 0.985) return 'swollen';
  return luck < 0.993 ? 'missing' : 'eaten';
}

function drawHousing(chance: Chance): HousingCondition {
  const luck = chance.fraction();
  if (luck < 0.94) return 'sound';
  if (luck < 0.96) return 'cap damaged';
  if (luck < 0.97) return 'loose';
  if (luck < 0.985) return 'flooded';
  return luck < 0.997 ? 'filled with soil' : 'broken';
}

function drawOccupants(chance: Chance, day: Day): Occupants {
  const luck = chance.fraction() / seasonFactor(day);
  if (luck > 0.09) return 'none';
  if (luck > 0.03) return 'ants';
  return luck > 0.02 ? 'stinging insects' : luck > 0.01 ? 'spiders or snakes' : 'other';
}
