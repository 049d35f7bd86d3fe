import {
  type AnyFact,
  addDays,
  assessClearance,
  compareRecorded,
  type Day,
  dayToText,
  dueWork,
  foldFirm,
  foldProperty,
  getDay,
  PARTS,
  type RoundBody,
  STATION_MODELS,
  timelinessOn,
  WORKS,
} from '@sillwatch/trade';
import type { FieldDay, FieldFirm, FieldProperty, FieldPropertyRow } from './port.ts';
import type { FirmRow, HeldRow, OwnRow } from './shelf.ts';

/** How many days ahead the phone carries work for, today included. */
export const DAYS_AHEAD = 7;

export function firmView({ facts, names }: FirmRow): FieldFirm {
  const state = foldFirm(facts);
  return {
    state,
    profiles: state.profiles,
    models: { ...Object.fromEntries(STATION_MODELS.map((model) => [model.id, model])), ...state.models },
    partNames: {
      ...PARTS,
      ...Object.fromEntries(Object.values(state.parts).map(({ part, name }) => [part, name])),
    },
    names: new Map(names),
  };
}

/** The property as its fetched and own facts say together; refused and set-aside ones count for nothing. */
export function propertyView(
  property: string,
  held: HeldRow | undefined,
  own: readonly OwnRow[],
  { profiles }: FieldFirm,
  todayIn: (timeZone: string) => Day,
  fetchedAt: string | null,
): FieldProperty | undefined {
  const ownFacts = own.flatMap(({ fact, state }) =>
    fact.property === property && (state === 'waiting' || state === 'accepted') ? [fact] : [],
  );
  if (held === undefined && ownFacts.length === 0) return undefined;
  const homeIds = new Set(held?.facts.map(({ id }) => id));
  const unsent = own.flatMap(({ fact, state }) =>
    fact.property === property && state === 'waiting' && !homeIds.has(fact.id) ? [fact.id] : [],
  );
  const facts: readonly AnyFact[] = [
    ...(held?.facts ?? []),
    ...ownFacts.filter(({ id }) => !homeIds.has(id)),
  ].sort(compareRecorded);
  const folded = foldProperty(facts);
  const profile = folded.body === null ? undefined : profiles[folded.body.profile];
  const today = todayIn(folded.body?.timeZone ?? 'UTC');
  const stations =
    profile === undefined
      ? folded.stations
      : folded.stations.map((station) => assessClearance(station, profile));
  return {
    state: { ...folded, property, stations },
    profile,
    due: profile === undefined ? undefined : dueWork(folded.stations, profile, today),
    today,
    facts,
    unsent: new Set(unsent),
    fetchedAt: held === undefined ? null : fetchedAt,
  };
}

/** One line of the list: owed = open within the days ahead. */
export function rowView({ state, due, today, unsent }: FieldProperty): FieldPropertyRow {
  const { body } = state;
  const until = addDays(today, DAYS_AHEAD - 1);
  const open = (due?.items ?? []).filter(({ earliest }) => earliest <= until);
  const now = open.filter(({ earliest }) => earliest <= today);
  const least = (days: readonly Day[]): string | null => {
    const [first] = days.toSorted((a, b) => a - b);
    return first === undefined ? null : dayToText(first);
  };
  return {
    property: state.property,
    name: body?.name ?? '',
    street: body?.address.street ?? '',
    town: body?.address.town ?? '',
    customer: body?.customer.name ?? '',
    accessNotes: body?.accessNotes ?? '',
    hazards: body?.hazards ?? '',
    position: body?.position ?? null,
    stations: state.stations.filter(({ inService }) => inService).length,
    owed: new Set(now.map(({ station }) => station)).size,
    late: now.filter((item) => timelinessOn(item, today) === 'late').length,
    earliest: least(open.map(({ earliest }) => earliest)),
    latest: least(open.map(({ latest }) => latest)),
    works: WORKS.map((work) => ({
      work,
      stations: open.filter((item) => item.work === work).length,
    })).filter(({ stations }) => stations > 0),
    unsent: unsent.size > 0,
  };
}

/** The coming days: the round of each as published, else the work that opens on it. */
export function daysView(
  today: string,
  rounds: readonly RoundBody[],
  rows: readonly FieldPropertyRow[],
): readonly FieldDay[] {
  const first = getDay(today);
  const inRounds = new Set(
    rounds.filter(({ day }) => day >= today).flatMap(({ visits }) => visits.map(({ property }) => property)),
  );
  return Array.from({ length: DAYS_AHEAD }, (_, ahead) => {
    const day = dayToText(addDays(first, ahead));
    const round = rounds.find((one) => one.day === day) ?? null;
    const due = rows
      .filter(({ property, earliest }) => {
        if (earliest === null || inRounds.has(property)) return false;
        return ahead === 0 ? earliest <= day : earliest === day;
      })
      .sort((a, b) => ((a.latest ?? '') < (b.latest ?? '') ? -1 : 1));
    return { day, round, due: round === null ? due : [] };
  });
}

/** Which properties the phone should hold: those of the rounds of the coming days, else those with work open soon. */
export function wantedProperties(
  today: string,
  rounds: readonly RoundBody[],
  dueAt: readonly string[],
): ReadonlySet<string> {
  const last = dayToText(addDays(getDay(today), DAYS_AHEAD - 1));
  const coming = rounds.filter(({ day }) => day >= today && day <= last);
  const inRounds = coming.flatMap(({ visits }) => visits.map(({ property }) => property));
  return new Set(inRounds.length > 0 ? inRounds : dueAt);
}
