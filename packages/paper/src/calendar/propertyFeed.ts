import type { Day, DueItem, DueWork, PropertyState, RoundBody } from '@sillwatch/trade';
import { dayToText, findDay, findMoment, timelinessOn } from '@sillwatch/trade';
import { dayInWords } from '../report/format.ts';
import { type PaperLanguage, type Say, sayIn } from '../report/words/say.ts';
import type { Feed, FeedEvent } from './feed.ts';

/** The next visit as a customer may be told of it, the firmest first. */
export type NextVisit =
  | { readonly kind: 'promised'; readonly day: Day; readonly from: string; readonly to: string }
  /** On a round that was sent out; the hour was not agreed, so it is not told. */
  | { readonly kind: 'planned'; readonly day: Day; readonly visit: string }
  | { readonly kind: 'due'; readonly target: Day; readonly latest: Day }
  | { readonly kind: 'late'; readonly latest: Day };

export interface NextVisitsInput {
  readonly property: PropertyState;
  /** As sent out; only visits at this property are read. */
  readonly rounds: readonly RoundBody[];
  readonly due: DueWork;
  readonly asOf: Day;
}

/** Promised and planned visits from this day on, by day; where there is none, what is due. Empty when nothing is owed. */
export function nextVisits({ property, rounds, due, asOf }: NextVisitsInput): readonly NextVisit[] {
  const { promise } = property;
  const promisedDay = promise === null || promise.day === null ? undefined : findDay(promise.day);
  const promised: readonly NextVisit[] =
    promise === null || promisedDay === undefined || promisedDay < asOf
      ? []
      : [{ kind: 'promised', day: promisedDay, from: promise.from, to: promise.to }];
  const planned = rounds.flatMap((round): readonly NextVisit[] => {
    const day = findDay(round.day);
    if (day === undefined || day < asOf || day === promisedDay) return [];
    return round.visits.flatMap(({ property: at, visit }) =>
      at === property.property ? [{ kind: 'planned' as const, day, visit }] : [],
    );
  });
  const known = [...promised, ...planned].sort((a, b) => dayOf(a) - dayOf(b));
  return known.length > 0 ? known : dueVisits(property, due, asOf);
}

function dayOf(visit: NextVisit): Day {
  switch (visit.kind) {
    case 'promised':
    case 'planned':
      return visit.day;
    case 'due':
      return visit.target;
    case 'late':
      return visit.latest;
  }
}

function dueVisits(property: PropertyState, due: DueWork, asOf: Day): readonly NextVisit[] {
  const first = due.items
    .filter((item) => item.property === property.property)
    .reduce<DueItem | undefined>(
      (soonest, item) => (soonest === undefined || item.latest < soonest.latest ? item : soonest),
      undefined,
    );
  if (first === undefined) return [];
  if (timelinessOn(first, asOf) === 'late') return [{ kind: 'late', latest: first.latest }];
  return [{ kind: 'due', target: first.target < asOf ? asOf : first.target, latest: first.latest }];
}

/** The next visits at one property as a feed for its customer; says nothing of any other place or person. */
export function propertyFeed(
  input: NextVisitsInput & {
    readonly stampMs: number;
    readonly timeZone: string;
    readonly lang?: PaperLanguage;
  },
): Feed {
  const say = sayIn(input.lang ?? 'en-US');
  const { property } = input;
  return {
    name: say('calendar.property', { property: property.body?.name ?? property.property }),
    lang: say.lang,
    stampMs: input.stampMs,
    events: nextVisits(input).map((visit) => eventOf(visit, input, say)),
  };
}

function eventOf(
  visit: NextVisit,
  { property, asOf, timeZone }: NextVisitsInput & { readonly timeZone: string },
  say: Say,
): FeedEvent {
  const address = property.body?.address;
  const location =
    address === undefined ? null : `${address.street}, ${address.town}, ${address.state} ${address.postcode}`;
  const head = { location, isTentative: visit.kind !== 'promised' };
  switch (visit.kind) {
    case 'promised':
      return {
        ...head,
        id: `promise-${property.property}-${dayToText(visit.day)}`,
        when: promisedTimes(visit, timeZone),
        summary: say('calendar.promised'),
        description: say('page.next.promised', {
          day: dayInWords(visit.day, say.lang),
          from: visit.from,
          to: visit.to,
        }),
      };
    case 'planned':
      return {
        ...head,
        id: `visit-${visit.visit}`,
        when: { kind: 'day', day: dayToText(visit.day) },
        summary: say('calendar.planned'),
        description: say('calendar.planned.text'),
      };
    case 'due':
      return {
        ...head,
        id: `due-${property.property}`,
        when: { kind: 'day', day: dayToText(visit.target) },
        summary: say('calendar.due'),
        description: say('calendar.due.text', { latest: dayInWords(visit.latest, say.lang) }),
      };
    case 'late':
      return {
        ...head,
        id: `due-${property.property}`,
        when: { kind: 'day', day: dayToText(asOf) },
        summary: say('calendar.due'),
        description: say('page.next.late', { day: dayInWords(visit.latest, say.lang) }),
      };
  }
}

function promisedTimes(
  { day, from, to }: Extract<NextVisit, { readonly kind: 'promised' }>,
  timeZone: string,
): FeedEvent['when'] {
  const startMs = findInstant(day, from, timeZone);
  const endMs = findInstant(day, to, timeZone);
  if (startMs === undefined || endMs === undefined || endMs < startMs)
    return { kind: 'day', day: dayToText(day) };
  return { kind: 'timed', startMs, endMs };
}

/** `24:00` is the end of the day. Undefined where zone or clock cannot be read. */
function findInstant(day: Day, clock: string, timeZone: string): number | undefined {
  const isEnd = clock === '24:00';
  try {
    const zoned = Temporal.PlainDateTime.from(
      `${dayToText(day)}T${isEnd ? '00:00' : clock}:00`,
    ).toZonedDateTime(timeZone);
    const text = (isEnd ? zoned.add({ days: 1 }) : zoned).toString({ timeZoneName: 'never' });
    return findMoment(text)?.epochMs;
  } catch {
    return undefined;
  }
}
