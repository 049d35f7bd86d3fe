import ical, { ICalCalendarMethod, ICalEventStatus, ICalEventTransparency } from 'ical-generator';

/** One entry of a feed. Times are instants; a whole-day entry names its day only. */
export interface FeedEvent {
  /** The same thing keeps its id from fetch to fetch, so that a calendar moves it instead of doubling it. */
  readonly id: string;
  readonly when:
    | { readonly kind: 'timed'; readonly startMs: number; readonly endMs: number }
    /** `YYYY-MM-DD` */
    | { readonly kind: 'day'; readonly day: string };
  readonly summary: string;
  readonly description: string;
  readonly location: string | null;
  readonly isTentative: boolean;
}

export interface Feed {
  readonly name: string;
  /** BCP 47 */
  readonly lang: string;
  /** milliseconds since 1970: when the feed was computed */
  readonly stampMs: number;
  readonly events: readonly FeedEvent[];
}

const HOURS_BETWEEN_FETCHES = 2;

/** A calendar to subscribe to (RFC 5545, with the name and refresh interval of RFC 7986). */
export function feedToText(feed: Feed): string {
  const calendar = ical({
    name: toOneLine(feed.name),
    prodId: { company: 'Sillwatch', product: 'calendar', language: feed.lang.slice(0, 2).toUpperCase() },
    method: ICalCalendarMethod.PUBLISH,
    ttl: HOURS_BETWEEN_FETCHES * 3600,
  });
  for (const event of feed.events) {
    calendar.createEvent({
      id: event.id,
      stamp: new Date(feed.stampMs),
      ...timesOf(event.when),
      summary: toOneLine(event.summary),
      description: event.description,
      ...(event.location === null ? {} : { location: toOneLine(event.location) }),
      status: event.isTentative ? ICalEventStatus.TENTATIVE : ICalEventStatus.CONFIRMED,
      transparency:
        event.when.kind === 'day' ? ICalEventTransparency.TRANSPARENT : ICalEventTransparency.OPAQUE,
    });
  }
  return calendar.toString();
}

function timesOf(when: FeedEvent['when']) {
  if (when.kind === 'timed') return { start: new Date(when.startMs), end: new Date(when.endMs) };
  return { start: new Date(`${when.day}T00:00:00Z`), allDay: true, timezone: 'UTC' };
}

/** Text that calendars show on one line: controls, which RFC 5545 forbids there, become blanks. */
function toOneLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Cs}]+/gu, ' ').trim();
}
