import type { Finding, InsertKind } from '../words.ts';
import type { Application, FittedInsert, StationSeenBody, Work } from './fact.ts';

/** What is put right in a look: what was seen, into which slots bait went, and the use record of that bait. */
export interface LookChange {
  readonly finding: Finding;
  /** Slots that bait went into at this look; empty = none did. */
  readonly baitSlots: readonly string[];
  /** null = no bait went in, or its record is kept elsewhere. */
  readonly application: Application | null;
}

/**
 * A look said anew, whole, as a correction must say it (decision 0222). Work other than bait stands as it was recorded, save where
 * nobody opened the station: then nothing can have been done in it. Parts used follow the bait by the difference, so that
 * a count made by hand is kept; `baitPart` is the model's part id, null = unknown, and the counts stand.
 */
export function correctLook(
  body: StationSeenBody,
  { finding, baitSlots, application }: LookChange,
  baitPart: string | null,
): StationSeenBody {
  if (finding.reach !== 'opened') {
    return { ...body, finding, work: { ...NOTHING_DONE, minutes: body.work.minutes }, application: null };
  }
  return { ...body, finding, work: withBait(body.work, baitSlots, baitPart), application };
}

/** The slots that bait went into at this look. */
export function baitSlotsOf({ fitted }: Pick<Work, 'fitted'>): readonly string[] {
  return fitted.filter(({ insert }) => insert === BAIT).map(({ slot }) => slot);
}

const BAIT: InsertKind = 'bait';

const NOTHING_DONE: Work = {
  yearlyServiceDone: false,
  baseMonitorLifted: false,
  cleanedOut: false,
  fitted: [],
  withdrawn: [],
  partsUsed: {},
  minutes: null,
};

function withBait(work: Work, baitSlots: readonly string[], baitPart: string | null): Work {
  const before = baitSlotsOf(work);
  if (before.length === baitSlots.length && before.every((slot) => baitSlots.includes(slot))) return work;
  const others = work.fitted.filter(({ slot, insert }) => insert !== BAIT && !baitSlots.includes(slot));
  const fitted = [...others, ...baitSlots.map((slot): FittedInsert => ({ slot, insert: BAIT }))];
  if (baitPart === null) return { ...work, fitted };
  const { [baitPart]: used = 0, ...parts } = work.partsUsed;
  const count = Math.max(0, used + baitSlots.length - before.length);
  return { ...work, fitted, partsUsed: count === 0 ? parts : { ...parts, [baitPart]: count } };
}
