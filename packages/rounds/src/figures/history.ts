import {
  type AnyFact,
  type Application,
  type FactBodies,
  type InstallBody,
  resolveFacts,
  type StandingFact,
  type StationSeenBody,
  type VisitClosedBody,
} from '@sillwatch/trade';
import { type Day, findMoment } from '@sillwatch/trade/units';

/** One look at a station (or a failed one), as it stands after corrections. */
export interface Look {
  readonly station: string;
  readonly day: Day;
  readonly by: string;
  readonly body: StationSeenBody;
}

/** A housing in the ground, from its installation or replacement on. */
export interface Installation {
  readonly station: string;
  readonly day: Day;
  /** null where it replaces an older housing: structure and number go on */
  readonly body: InstallBody | null;
  readonly model: string;
  /** bait put in with it; null = none, or its record is kept elsewhere */
  readonly application: Application | null;
  readonly holdsBait: boolean;
}

export interface ClosedVisit {
  readonly visit: string;
  readonly day: Day;
  readonly by: string;
  readonly body: VisitClosedBody;
  /** minutes from arrival to closing; null where the times cannot be read or contradict each other */
  readonly minutes: number | null;
}

/** What figures need of one property's facts, in the order in which it happened. */
export interface PropertyHistory {
  readonly property: string;
  readonly looks: readonly Look[];
  readonly installations: readonly Installation[];
  readonly removals: readonly { readonly station: string; readonly day: Day }[];
  readonly visits: readonly ClosedVisit[];
}

type Told = {
  readonly [K in
    | 'station seen'
    | 'station installed'
    | 'station replaced'
    | 'station removed'
    | 'visit closed']: StandingFact & {
    readonly kind: K;
    readonly body: FactBodies[K];
  };
}['station seen' | 'station installed' | 'station replaced' | 'station removed' | 'visit closed'];

const TOLD: ReadonlySet<string> = new Set([
  'station seen',
  'station installed',
  'station replaced',
  'station removed',
  'visit closed',
]);

/** Facts were checked at the door, so the kind vouches for the body. */
function isTold(one: StandingFact): one is Told {
  return TOLD.has(one.kind);
}

/** Reads one property's facts once, corrections applied. Facts must have passed `checkFact`; looks at unknown stations are left out. */
export function historyOf(property: string, facts: Iterable<AnyFact>): PropertyHistory {
  const looks: Look[] = [];
  const installations: Installation[] = [];
  const removals: { station: string; day: Day }[] = [];
  const visits: ClosedVisit[] = [];
  const known = new Set<string>();
  for (const one of resolveFacts(facts).standing) {
    if (!isTold(one)) continue;
    const { fact, when } = one;
    const { day } = when;
    const { station, by } = fact;
    switch (one.kind) {
      case 'station installed':
        if (station === null || known.has(station)) break;
        known.add(station);
        installations.push({
          station,
          day,
          body: one.body,
          model: one.body.model,
          application: one.body.application,
          holdsBait: one.body.inserts.some(({ insert }) => insert === 'bait'),
        });
        break;
      case 'station replaced':
        if (station === null || !known.has(station)) break;
        installations.push({
          station,
          day,
          body: null,
          model: one.body.model,
          application: one.body.application,
          holdsBait: one.body.inserts.some(({ insert }) => insert === 'bait'),
        });
        break;
      case 'station removed':
        if (station !== null && known.has(station)) removals.push({ station, day });
        break;
      case 'station seen':
        if (station !== null && known.has(station)) looks.push({ station, day, by, body: one.body });
        break;
      case 'visit closed': {
        const started = findMoment(one.body.startedAt);
        const minutes = started === undefined ? null : (when.epochMs - started.epochMs) / 60_000;
        const isSound = minutes !== null && minutes > 0 && minutes < 24 * 60;
        visits.push({ visit: one.body.visit, day, by, body: one.body, minutes: isSound ? minutes : null });
        break;
      }
    }
  }
  return { property, looks, installations, removals, visits };
}
