import type { Job, Problem } from '@sillwatch/planner';
import {
  addDays,
  type Day,
  dayToText,
  findDay,
  type Place,
  type PropertyState,
  type RoundBody,
  type VisitStation,
  weekdayOf,
} from '@sillwatch/trade';
import { compareKeys } from '../figures/compareKeys.ts';
import { estimateServiceMinutes } from '../figures/serviceMinutes.ts';
import { clockShiftSeconds, getSecondsOfDay } from './clock.ts';
import { type DayPreference, listDayCosts } from './dayCosts.ts';
import { MOST_DAYS, type PlanInput } from './input.ts';
import type { Released, StationWork, UnplannedReason, VisitNeed } from './need.ts';
import { isClosed, listPeople, type Person, toVehicles, whyOff } from './people.ts';
import type { SentVisit } from './pins.ts';
import { findPropertyVisits, listOwed, type WantedVisit } from './propertyVisits.ts';
import { createWindowBooks } from './spans.ts';
import { flatten, type PlaceTravel } from './travel.ts';
import { PLAN_WEIGHTS, type PlanWeights } from './weights.ts';

/** The question for `@sillwatch/planner` with the way back from its numbers: job -> visit, vehicle -> person, day 0 -> `from`. */
export interface PlanProblem {
  readonly problem: Problem;
  readonly input: PlanInput;
  /** IANA zone of the branch. */
  readonly timeZone: string;
  readonly from: Day;
  /** inclusive */
  readonly to: Day;
  /** By job. */
  readonly needs: readonly VisitNeed[];
  /** By vehicle. */
  readonly people: readonly Person[];
  /** By place. */
  readonly places: readonly Place[];
  readonly travel: PlaceTravel;
  readonly weights: PlanWeights;
  /** What each property owes, to live a plan through. */
  readonly owed: ReadonlyMap<string, readonly VisitStation[]>;
  /** Owed work that no search can place. */
  readonly hopeless: readonly HopelessWork[];
  readonly released: readonly Released[];
  /** The branch's published rounds within the horizon. */
  readonly published: readonly RoundBody[];
  /** The skills that properties ask for, by bit. */
  readonly skills: readonly string[];
}

export interface HopelessWork {
  readonly property: string;
  readonly works: readonly StationWork[];
  readonly asks: readonly string[];
  readonly reason: Extract<UnplannedReason, 'no position' | 'no label profile' | 'no day left'>;
}

/**
 * Turns the due work of a branch into a question for the planner. Pure and repeatable: the same input gives the same numbers.
 * `preference` breaks ties between days inside a window, for a season. Throws a RangeError for a branch that does not exist, a horizon that is not 1 to 91 days, and more than 31 different skills.
 */
export function buildPlanProblem(input: PlanInput, preference?: DayPreference): PlanProblem {
  const { from, days, firm } = input;
  const branch = firm.branches[input.branch];
  if (branch === undefined)
    throw new RangeError(`no branch ${JSON.stringify(input.branch)}; add it or name one that exists`);
  if (!Number.isInteger(days) || days < 1 || days > MOST_DAYS)
    throw new RangeError(`a horizon of ${days} days; give 1 to ${MOST_DAYS} (a branch plans 28 to 91)`);
  const to = addDays(from, days - 1);
  const weights = { ...PLAN_WEIGHTS, ...input.weights };
  const people = listPeople(input);
  const properties = listProperties(input);
  const places = createPlaces(people, properties);
  const travel = input.travel(places.list);
  const skills = numberSkills(properties);
  const minutes = input.minutes ?? estimateServiceMinutes([]);
  const sent = sentByProperty(input);
  const vehicleOf = new Map(people.map(({ body }, vehicle) => [body.person, vehicle]));
  const isWorkable = createWorkable(people, from);
  const books = createWindowBooks();
  const hold = new Set(input.hold ?? []);
  const jobs: Job[] = [];
  const needs: VisitNeed[] = [];
  const hopeless: HopelessWork[] = [];
  const released: Released[] = [];
  const owed = new Map<string, readonly VisitStation[]>();

  for (const state of properties) {
    const { body, property } = state;
    if (body === null) continue;
    const profile = firm.profiles[body.profile];
    if (profile === undefined) {
      if (state.stations.length > 0 || state.asks.length > 0)
        hopeless.push({ property, works: [], asks: askIds(state), reason: 'no label profile' });
      continue;
    }
    if (body.position === null) {
      const works = listOwed(state, profile, from, to);
      if (works.length > 0 || state.asks.length > 0)
        hopeless.push({ property, works, asks: askIds(state), reason: 'no position' });
      continue;
    }
    const needed = body.skills ?? [];
    const weekdays = body.visitHours?.weekdays;
    const isUsable = (day: Day): boolean =>
      isWorkable(day, needed) && (weekdays === undefined || weekdays.includes(weekdayOf(day)));
    const found = findPropertyVisits({
      state,
      profile,
      sent: sent.get(property) ?? [],
      from,
      to,
      today: input.today ?? from,
      hold,
      isUsable,
      books,
      whyOff: (person, day) => whyOff(input, person, day),
      whyNobody: (day) =>
        isClosed(input, day) ? 'branch closed' : isWorkable(day, []) ? undefined : 'nobody works that day',
    });
    owed.set(property, found.stations);
    released.push(...found.released);
    if (found.noDay.length > 0 || found.noDayAsks.length > 0)
      hopeless.push({ property, works: found.noDay, asks: found.noDayAsks, reason: 'no day left' });
    const last = lastPersonOf(input, property, sent.get(property) ?? []);
    found.wanted.forEach((wanted, order) => {
      const need = toNeed(wanted, property, jobs.length, order, last);
      needs.push(need);
      jobs.push(toJob(need, wanted, state, isUsable));
    });
  }

  const { x, y } = flatten(places.list);
  const { kilometreSeconds } = weights;
  const cost = (a: number, b: number): number =>
    travel.seconds(a, b) + Math.round((travel.metres(a, b) * kilometreSeconds) / 1000);
  return {
    problem: {
      days,
      travel: {
        kind: 'function',
        places: places.list.length,
        seconds: travel.seconds,
        most: travel.mostSeconds + Math.ceil((travel.mostMetres * kilometreSeconds) / 1000),
        x,
        y,
        ...(kilometreSeconds === 0 ? {} : { cost }),
      },
      jobs,
      vehicles: toVehicles(people, places.numberOf, skills.bitsOf, weights),
    },
    input,
    timeZone: branch.timeZone,
    from,
    to,
    needs,
    people,
    places: places.list,
    travel,
    weights,
    owed,
    hopeless,
    released,
    published: input.rounds.filter(
      (round) => round.branch === input.branch && isBetween(round.day, from, to),
    ),
    skills: skills.names,
  };

  function toNeed(
    wanted: WantedVisit,
    property: string,
    job: number,
    order: number,
    lastPerson: string | null,
  ): VisitNeed {
    const { span, works, asks, promise, published } = wanted;
    const mean = minutes.minutesFor(
      works.map(({ work }) => work),
      property,
    ).mean;
    return {
      job,
      property,
      order,
      works,
      asks: asks.map(({ ask }) => ask),
      urgent: asks.some(({ urgent }) => urgent),
      minutes: Math.max(1, Math.round(mean + asks.reduce((sum, ask) => sum + ask.minutes, 0))),
      earliest: dayToText(span.earliest),
      target: dayToText(span.nominal),
      latest: dayToText(span.latest),
      promise,
      published,
      lastPerson,
    };
  }

  function toJob(
    need: VisitNeed,
    wanted: WantedVisit,
    state: PropertyState,
    isUsable: (day: Day) => boolean,
  ): Job {
    const serviceSeconds = need.minutes * 60;
    const publishedVehicle = vehicleOf.get(need.published?.person ?? '');
    const lastVehicle = vehicleOf.get(need.lastPerson ?? '');
    const frozen = need.published?.frozen === true ? publishedVehicle : undefined;
    const preferred =
      publishedVehicle !== undefined
        ? { vehicle: publishedVehicle, otherwise: weights.movedPersonSeconds }
        : lastVehicle === undefined
          ? undefined
          : { vehicle: lastVehicle, otherwise: weights.otherPersonSeconds };
    return {
      name: state.body?.name ?? state.property,
      place: places.numberOf(state.body?.position ?? null),
      serviceSeconds,
      days: listDayCosts(wanted, from, isUsable, weights, preference),
      windows: findWindow(need, state, wanted.span.nominal, serviceSeconds),
      skills: skills.bitsOf(state.body?.skills ?? []),
      load: 0,
      ...(preferred === undefined ? {} : { preferred }),
      ...(wanted.pinned
        ? {
            fixed: {
              day: wanted.span.nominal - from,
              ...(frozen === undefined ? {} : { vehicle: frozen }),
            },
          }
        : {}),
    };
  }

  /** When service may begin, on the clock of the branch: what was promised, else what was published, else the hours of the property. */
  function findWindow(
    need: VisitNeed,
    { body }: PropertyState,
    day: Day,
    serviceSeconds: number,
  ): Job['windows'] {
    const zone = body?.timeZone ?? timeZoneOfBranch();
    const shift = clockShiftSeconds(input.clock, zone, timeZoneOfBranch(), day);
    if (need.promise !== null) {
      const { from: opens, to: closes } = need.promise;
      return [toWindow(getSecondsOfDay(opens) + shift, getSecondsOfDay(closes) + shift)];
    }
    if (need.published?.frozen === true) {
      const begins = secondsOfDayIn(need.published.startsAt);
      const slack = weights.frozenSlackMinutes * 60;
      return [toWindow(begins - slack, begins + slack)];
    }
    if (body?.visitHours == null) return [];
    const open = getSecondsOfDay(body.visitHours.from) + shift;
    return [toWindow(open, Math.max(open, getSecondsOfDay(body.visitHours.to) + shift - serviceSeconds))];
  }

  function timeZoneOfBranch(): string {
    return branch?.timeZone ?? 'UTC';
  }
}

/** The places of a plan in the order of its numbers, for whoever must fetch travel times before it can be built. */
export function listPlanPlaces(input: PlanInput): readonly Place[] {
  return createPlaces(listPeople(input), listProperties(input)).list;
}

/** Local time of day that stands in an RFC 3339 text, in seconds. */
export function secondsOfDayIn(moment: string): number {
  return getSecondsOfDay(moment.slice(11, 16)) + Number(moment.slice(17, 19));
}

function toWindow(open: number, close: number): { readonly open: number; readonly close: number } {
  const opens = Math.max(0, open);
  return { open: opens, close: Math.max(opens, close) };
}

function askIds(state: PropertyState): readonly string[] {
  return state.asks.map(({ ask }) => ask);
}

function listProperties({ properties, branch }: PlanInput): readonly PropertyState[] {
  return properties
    .filter(({ body }) => body?.branch === branch)
    .sort((a, b) => compareKeys(a.property, b.property));
}

function isBetween(text: string, from: Day, to: Day): boolean {
  const day = findDay(text);
  return day !== undefined && day >= from && day <= to;
}

function sentByProperty({ rounds }: PlanInput): ReadonlyMap<string, readonly SentVisit[]> {
  const found = new Map<string, SentVisit[]>();
  for (const { person, day: dayText, visits } of rounds) {
    const day = findDay(dayText);
    if (day === undefined) continue;
    for (const visit of visits) {
      const one = { person, day, dayText, visit };
      const known = found.get(visit.property);
      if (known === undefined) found.set(visit.property, [one]);
      else known.push(one);
    }
  }
  for (const list of found.values()) list.sort((a, b) => a.day - b.day || compareKeys(a.person, b.person));
  return found;
}

function lastPersonOf(input: PlanInput, property: string, sent: readonly SentVisit[]): string | null {
  const past = sent.filter(({ day }) => day < input.from);
  return input.lastPerson?.[property] ?? past[past.length - 1]?.person ?? null;
}

interface Places {
  readonly list: readonly Place[];
  /** Throws for a place that is not on the list. */
  readonly numberOf: (place: Place | null) => number;
}

function createPlaces(people: readonly Person[], properties: readonly PropertyState[]): Places {
  const list: Place[] = [];
  const numbers = new Map<string, number>();
  const keyOf = ({ latitude, longitude }: Place): string => `${latitude} ${longitude}`;
  const note = (place: Place): void => {
    const key = keyOf(place);
    if (numbers.has(key)) return;
    numbers.set(key, list.length);
    list.push({ latitude: place.latitude, longitude: place.longitude });
  };
  for (const { body } of people) {
    note(body.start);
    note(body.end);
  }
  for (const { body } of properties) if (body?.position != null) note(body.position);
  // A branch without people and positions: the planner wants one place.
  if (list.length === 0) note({ latitude: 0, longitude: 0 });
  return {
    list,
    numberOf: (place) => {
      const found = place === null ? undefined : numbers.get(keyOf(place));
      if (found === undefined) throw new Error('every place of a plan is numbered');
      return found;
    },
  };
}

interface Skills {
  readonly names: readonly string[];
  readonly bitsOf: (skills: readonly string[]) => number;
}

/** One bit for each skill that a property asks for. */
function numberSkills(properties: readonly PropertyState[]): Skills {
  const names = [...new Set(properties.flatMap(({ body }) => body?.skills ?? []))].sort(compareKeys);
  if (names.length > 31)
    throw new RangeError(
      `properties ask for ${names.length} different skills (${names.slice(0, 3).join(', ')}, ...); a plan knows 31: join some`,
    );
  const bits = new Map(names.map((name, index) => [name, 2 ** index]));
  return {
    names,
    bitsOf: (skills) => [...new Set(skills)].reduce((sum, name) => sum + (bits.get(name) ?? 0), 0),
  };
}

/** Does anybody with these skills work that day? Where nobody has them on any day, anybody counts: the planner then says so. */
function createWorkable(
  people: readonly Person[],
  from: Day,
): (day: Day, skills: readonly string[]) => boolean {
  const days = new Map<string, ReadonlySet<number>>();
  const daysOf = (skills: readonly string[]): ReadonlySet<number> => {
    const key = skills.join('\u0000');
    const known = days.get(key);
    if (known !== undefined) return known;
    const able = people.filter(({ body }) => skills.every((skill) => body.skills.includes(skill)));
    const found = new Set(
      (able.length > 0 ? able : people).flatMap(({ hoursByDay }) => [...hoursByDay.keys()]),
    );
    days.set(key, found);
    return found;
  };
  return (day, skills) => daysOf(skills).has(day - from);
}
