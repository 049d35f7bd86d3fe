import { exactBinomial, type Interval } from '@sillwatch/figures';
import type { Day } from '@sillwatch/trade/units';
import { stationRuns, structureRuns } from './hitRuns.ts';
import type { FigureSubject } from './riskColumns.ts';
import { type Sentence, sentence } from './sentences.ts';
import { LEAST_SUBJECTS, type TimeToEvent, timeToClear } from './timeToEvent.ts';

export const CRITERIA_CAUTION =
  'This is no registration study: stations were not set by a study plan, no structure was left untreated for comparison, and nothing but stations was looked at. No termites at stations does not prove that a colony is gone.';

/** One published criterion, and where the firm's structures would stand; `share` null = nothing in the record answers it. */
export interface Criterion {
  readonly id:
    | 'free of termites, preventive use'
    | 'gone within 12 months, remedial use'
    | 'colonies suppressed'
    | 'current standards';
  readonly source: string;
  /** what the source asks, a share; null = take it from the source's own text */
  readonly asked: number | null;
  readonly share: (Interval & { readonly events: number; readonly trials: number }) | null;
  readonly says: Sentence;
}

export interface PublishedCriteria {
  readonly caution: string;
  readonly criteria: readonly Criterion[];
  /** from baiting to clear, structures, whatever their follow-up */
  readonly toClear: TimeToEvent;
}

const PANEL =
  'EPA OPPTS 810.3800 (August 2004) and the questions put to its scientific panel in July 2002, read in part';
const REGULATION = '40 CFR 158.1786(c)';
const YEAR_DAYS = 365;

/**
 * Published criteria for bait studies beside the firm's own record. Only what the stations' record can answer gets a figure; whether structures are free of
 * termites it does not hold, and what was not read of the sources says "take it from the guideline's own text". A structure counts once it was first
 * baited a year before `asOf`; one that nobody looked at again counts as not gone. For a colony stand all hits of a structure at one time.
 */
export function publishedCriteria(subjects: readonly FigureSubject[], asOf: Day): PublishedCriteria {
  const runs = subjects.flatMap((subject) => structureRuns(stationRuns(subject)));
  const followed = runs.filter(({ baitedOn }) => baitedOn !== null && asOf - baitedOn >= YEAR_DAYS);
  const gone = followed.filter(
    ({ baitedOn, clearedOn }) => clearedOn !== null && clearedOn - (baitedOn ?? clearedOn) <= YEAR_DAYS,
  );
  const suppressed = followed.filter(({ clearedOn }) => clearedOn !== null);
  return {
    caution: CRITERIA_CAUTION,
    toClear: timeToClear(runs, 'structures').all,
    criteria: [
      unanswered('free of termites, preventive use', PANEL, 1, 'structures are not inspected'),
      answered('gone within 12 months, remedial use', 1, 'share', gone.length, followed.length),
      answered('colonies suppressed', 0.8, 'share as colonies', suppressed.length, followed.length),
      unanswered('current standards', REGULATION, null, 'take it from the guideline'),
    ],
  };
}

function answered(
  id: Criterion['id'],
  asked: number,
  key: 'share' | 'share as colonies',
  events: number,
  trials: number,
): Criterion {
  const share = exactBinomial(events, trials, 0.95);
  if (share === undefined || trials < LEAST_SUBJECTS) {
    const says = sentence('too little to say', {
      events: trials,
      leastEvents: LEAST_SUBJECTS,
      subjects: trials,
      leastSubjects: LEAST_SUBJECTS,
      unit: 'structures baited a year ago or more',
    });
    return { id, source: PANEL, asked, share: null, says };
  }
  const { estimate, lower, upper } = share;
  const values = { events, trials, share: 100 * estimate, lower: 100 * lower, upper: 100 * upper };
  return { id, source: PANEL, asked, share: { ...share, events, trials }, says: sentence(key, values) };
}

function unanswered(
  id: Criterion['id'],
  source: string,
  asked: number | null,
  why: 'structures are not inspected' | 'take it from the guideline',
): Criterion {
  return { id, source, asked, share: null, says: sentence(why) };
}
