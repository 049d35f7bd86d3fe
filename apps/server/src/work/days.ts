import { type Day, type FirmState, findDay, type PropertyState } from '@sillwatch/trade';
import { Problem } from '../http/problems.ts';

/** Which day it is, in the zone of the place asked about. */
export interface Today {
  inZone(timeZone: string): Day;
}

/** Zones are few and properties many: each zone is asked once. An unknown zone counts as UTC. */
export function createToday(nowMilliseconds: number): Today {
  const instant = Temporal.Instant.fromEpochMilliseconds(nowMilliseconds);
  const days = new Map<string, Day>();
  return {
    inZone(timeZone) {
      const known = days.get(timeZone);
      if (known !== undefined) return known;
      const day = readDay(dayTextIn(instant, timeZone));
      days.set(timeZone, day);
      return day;
    },
  };
}

function dayTextIn(instant: Temporal.Instant, timeZone: string): string {
  try {
    return instant.toZonedDateTimeISO(timeZone).toPlainDate().toString();
  } catch {
    return instant.toZonedDateTimeISO('UTC').toPlainDate().toString();
  }
}

/** Throws `malformed` for a day that does not exist; `at` names its place in the request. */
export function readDay(text: string, at = 'query.asOf'): Day {
  const day = findDay(text);
  if (day === undefined) {
    throw new Problem('malformed', `${text} is not a day of the calendar.`, {
      errors: [{ at, message: 'give a day that exists, as YYYY-MM-DD' }],
    });
  }
  return day;
}

/** The property's own zone, else its branch's, else UTC. */
export function zoneOf(property: PropertyState, firm: FirmState): string {
  const body = property.body;
  if (body === null) return 'UTC';
  return body.timeZone !== '' ? body.timeZone : (firm.branches[body.branch]?.timeZone ?? 'UTC');
}
