import { z } from '@hono/zod-openapi';
import {
  BAIT_LEFT,
  type Day,
  type DueItem,
  dayToText,
  FOUNDATIONS,
  type HeldService,
  INSERTS,
  PHASES,
  type PropertyState,
  type StationState,
  timelinessOn,
  WORKS,
} from '@sillwatch/trade';
import { dayText, list } from './schemas.ts';

/** What the trade room computes, as it goes out: days as `YYYY-MM-DD`. */
const point = z.tuple([z.number(), z.number()]).readonly();
export const timeliness = z.enum(['not yet', 'open', 'past target', 'late']);

export const propertyBody = z
  .object({
    name: z.string(),
    branch: z.string(),
    address: z.object({ street: z.string(), town: z.string(), state: z.string(), postcode: z.string() }),
    customer: z.object({ name: z.string(), email: z.string().nullable(), phone: z.string().nullable() }),
    timeZone: z.string(),
    profile: z.string(),
    agreement: z.object({ startsOn: z.string(), renewsOn: z.string() }).nullable(),
    accessNotes: z.string(),
    hazards: z.string(),
    position: z.object({ latitude: z.number(), longitude: z.number() }).nullable(),
  })
  .openapi('PropertyBody');

export const dueItem = z
  .object({
    station: z.string(),
    structure: z.string(),
    work: z.enum(WORKS),
    earliest: dayText,
    target: dayText,
    latest: dayText,
    timeliness,
    /** the row of the due table that fired, and the day it counts from */
    row: z.string(),
    countedFrom: dayText,
  })
  .openapi('DueItem');

export function showDueItem(item: DueItem, asOf: Day): z.input<typeof dueItem> {
  return {
    station: item.station,
    structure: item.structure,
    work: item.work,
    earliest: dayToText(item.earliest),
    target: dayToText(item.target),
    latest: dayToText(item.latest),
    timeliness: timelinessOn(item, asOf),
    row: item.row,
    countedFrom: dayToText(item.countedFrom),
  };
}

export const held = z
  .object({ station: z.string(), structure: z.string(), latest: dayText, feedingSince: dayText })
  .openapi('HeldService');

export function showHeld({ station, structure, latest, feedingSince }: HeldService): z.input<typeof held> {
  return { station, structure, latest: dayToText(latest), feedingSince: dayToText(feedingSince) };
}

export const structure = z
  .object({
    structure: z.string(),
    name: z.string(),
    foundation: z.enum(FOUNDATIONS),
    outline: list(point).nullable(),
    /** courtyards that one can stand in */
    holes: list(list(point)).optional(),
  })
  .openapi('Structure');

const dayOrNull = dayText.nullable();
const showDay = (day: Day | null): string | null => (day === null ? null : dayToText(day));

export const station = z
  .object({
    station: z.string(),
    structure: z.string(),
    number: z.number().int(),
    tag: z.string().nullable(),
    model: z.string(),
    position: point.nullable(),
    auxiliary: z.boolean(),
    inService: z.boolean(),
    installedOn: dayText,
    slots: list(z.object({ slot: z.string(), insert: z.enum(INSERTS).nullable(), fittedOn: dayOrNull })),
    lastOpenedOn: dayOrNull,
    lastYearlyOn: dayOrNull,
    phase: z.enum(PHASES),
    firstHitOn: dayOrNull,
    openHitOn: dayOrNull,
    feedingSince: dayOrNull,
    feedingLastSeenOn: dayOrNull,
    feedingEndedOn: dayOrNull,
    baitedOn: dayOrNull,
    baitLeft: z.enum(BAIT_LEFT),
    termiteFreeLooks: z.number().int(),
    clearedOn: dayOrNull,
    carriedOverOn: dayOrNull,
    missesInARow: z.number().int(),
    missedSince: dayOrNull,
    disturbedWhileFeeding: z.boolean(),
    doubtfulClocks: list(z.string()),
    /** work owed here, soonest latest day first */
    due: list(dueItem),
    /** a yearly service that waits because termites are feeding */
    held: held.nullable(),
  })
  .openapi('Station');

export function showStation(
  state: StationState,
  due: readonly DueItem[],
  heldHere: HeldService | undefined,
  asOf: Day,
): z.input<typeof station> {
  const { property: _property, ...rest } = state;
  return {
    ...rest,
    installedOn: dayToText(state.installedOn),
    slots: state.slots.map((slot) => ({ ...slot, fittedOn: showDay(slot.fittedOn) })),
    lastOpenedOn: showDay(state.lastOpenedOn),
    lastYearlyOn: showDay(state.lastYearlyOn),
    firstHitOn: showDay(state.firstHitOn),
    openHitOn: showDay(state.openHitOn),
    feedingSince: showDay(state.feedingSince),
    feedingLastSeenOn: showDay(state.feedingLastSeenOn),
    feedingEndedOn: showDay(state.feedingEndedOn),
    baitedOn: showDay(state.baitedOn),
    clearedOn: showDay(state.clearedOn),
    carriedOverOn: showDay(state.carriedOverOn),
    missedSince: showDay(state.missedSince),
    due: due.map((item) => showDueItem(item, asOf)),
    held: heldHere === undefined ? null : showHeld(heldHere),
  };
}

export const visit = z
  .object({
    visit: z.string(),
    day: dayText,
    opened: z.number().int(),
    unopened: z.number().int(),
    /** account id of who made its first record */
    by: z.string(),
  })
  .openapi('Visit');

export function showVisits(state: PropertyState): readonly z.input<typeof visit>[] {
  return state.visits.map(({ day, ...rest }) => ({ ...rest, day: dayToText(day) }));
}
