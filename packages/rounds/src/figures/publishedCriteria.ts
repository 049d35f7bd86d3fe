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
 * Published criteria for bait studies beside the firm's own record. Only what the stations' record can answer gets a figure; what the sources ask beyond
 * what was read of them says "take it from the guideline's own text". A structure counts once it was first baited a year before `asOf`; one
 * that nobody looked at again counts as not gone.
 */
export function publishedCriteria(subjects: readonly FigureSubject[], asOf: Day): PublishedCriteria {
  const runs = subjects.flatMap((subject) => structureRuns(stationRuns(subject)));
  const followed = runs.filter(({ baitedOn }) => baitedOn !== null && asOf - baitedOn >= YEAR_DAYS);
  const gone = followed.filter(
    ({ baitedOn, clearedOn }) => clearedOn !== null && clearedOn - (baitedOn ?? clearedOn) <= YEAR_DAYS,
  );
  const share = exactBinomial(gone.length, followed.length, 0.95);
  const isEnough = share !== undefined && followed.length >= LEAST_SUBJECTS;
  return {
    caution: CRITERIA_CAUTION,
    toClear: timeToClear(runs, 'structures').all,
    criteria: [
      unanswered('free of termites, preventive use', PANEL, 1),
      {
        id: 'gone within 12 months, remedial use',
        source: PANEL,
        asked: 1,
        share: isEnough ? { ...share, events: gone.length, trials: followed.length } : null,
        says: isEnough
          ? sentence('share', {
              events: gone.length,
              trials: followed.length,
              share: 100 * share.estimate,
              lower: 100 * share.lower,
              upper: 100 * share.upper,
            })
          : sentence('too little to say', {
              events: followed.length,
              leastEvents: LEAST_SUBJECTS,
              subjects: followed.length,
              leastSubjects: LEAST_SUBJECTS,
              unit: 'structures baited a year ago or more',
            }),
      },
      unanswered('colonies suppressed', PANEL, 0.8),
      unanswered('current standards', REGULATION, null),
    ],
  };
}

function unanswered(id: Criterion['id'], source: string, asked: number | null): Criterion {
  return { id, source, asked, share: null, says: sentence('take it from the guideline') };
}
