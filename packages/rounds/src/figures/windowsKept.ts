import { type LabelProfile, type WindowRule, windowAfter } from '@sillwatch/trade';
import type { Day } from '@sillwatch/trade/units';
import type { FigureSubject } from './riskColumns.ts';

/** A piece of work that was done, and the last day on which it would have been on time. */
export interface DoneWork {
  readonly property: string;
  readonly station: string;
  readonly by: string;
  readonly work: 'look' | 'yearly service';
  readonly doneOn: Day;
  readonly latest: Day;
  readonly kept: boolean;
}

interface Standing {
  installedOn: Day;
  openedOn: Day | null;
  yearlyFrom: Day;
  holdsBait: boolean;
  openHit: boolean;
  free: number;
  /** a service that had to wait for feeding to end has another window */
  carried: boolean;
}

/**
 * Each look and yearly service against the window that the one before opened. Services carried over because of termites are left out of the
 * count: their window counts from the end of feeding.
 */
export function doneWorks({ history, profile }: FigureSubject): readonly DoneWork[] {
  const { property } = history;
  const standings = new Map<string, Standing>();
  const done: DoneWork[] = [];
  let next = 0;
  for (const { station, day, by, body } of history.looks) {
    for (; next < history.installations.length; next += 1) {
      const one = history.installations[next];
      if (one === undefined || one.day > day) break;
      standings.set(one.station, begin(one.day, one.holdsBait));
    }
    const standing = standings.get(station);
    const { finding, work } = body;
    if (standing === undefined || finding.reach !== 'opened') continue;
    const put = (of: DoneWork['work'], rule: WindowRule, from: Day): void => {
      const { latest } = windowAfter(rule, from);
      done.push({ property, station, by, work: of, doneOn: day, latest, kept: day <= latest });
    };
    put('look', lookRule(standing, profile), standing.openedOn ?? standing.installedOn);
    if (work.yearlyServiceDone && !standing.carried)
      put('yearly service', profile.yearlyService.value, standing.yearlyFrom);
    const isLive = finding.termites === 'live on monitor' || finding.termites === 'live on bait';
    standing.openedOn = day;
    if (work.yearlyServiceDone) {
      standing.yearlyFrom = day;
      standing.carried = false;
    } else if (body.task === 'yearly service' && isLive) standing.carried = true;
    const fitted = work.fitted.some(({ insert }) => insert === 'bait');
    const seen = finding.baitLeft !== 'no bait' || finding.termites === 'live on bait';
    standing.holdsBait = fitted || (seen && work.withdrawn.length === 0);
    standing.free = isLive ? 0 : standing.free + 1;
    standing.openHit = isLive || (standing.openHit && standing.free < profile.clearAfterChecks.value);
  }
  return done;
}

function begin(installedOn: Day, holdsBait: boolean): Standing {
  return {
    installedOn,
    openedOn: null,
    yearlyFrom: installedOn,
    holdsBait,
    openHit: false,
    free: 0,
    carried: false,
  };
}

function lookRule({ openedOn, holdsBait, openHit }: Standing, profile: LabelProfile): WindowRule {
  if (openedOn === null) return profile.firstCheck.value;
  return holdsBait || openHit ? profile.baitedCheck.value : profile.check.value;
}
