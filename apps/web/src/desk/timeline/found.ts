import {
  BAIT_LEFT,
  type BaitLeft,
  baitSlotsOf,
  correctLook,
  type LabelProfile,
  MONITOR_CONDITIONS,
  type MonitorCondition,
  type StationModel,
  type StationSeenBody,
  type StationState,
  TERMITE_FINDINGS,
  type TermiteFinding,
} from '@sillwatch/trade';
import type { PropertyAnswer } from '../../api/types.ts';
import { type Change, listChanges } from '../../shared/changes.ts';
import { firstLegal, fromApplication, type Legal, toApplication } from '../../shared/legal.ts';
import type { daysIn } from '../../words/days.ts';
import type { Words } from '../../words/index.ts';
import { type Entry, momentAgain } from '../property/history.ts';
import {
  type Answers,
  baitOptions,
  findingOf,
  firstAnswers,
  monitorOptions,
  termiteOptions,
} from '../station/answers.ts';
import type { CorrectionResult } from './correction.ts';
import { lackingIn } from './useRecord.ts';

/** The look to be corrected, and what its questions are asked of. */
export interface FoundSource {
  readonly entry: Entry;
  /** As it stands. */
  readonly body: StationSeenBody;
  /** The last wording in which the station was opened: its work and bait come back with "opened". The body where none was. */
  readonly opened: StationSeenBody;
  /** The station before this look. */
  readonly state: StationState;
  /** undefined = a model that the firm has not described */
  readonly model: StationModel | undefined;
  readonly profile: LabelProfile | undefined;
  readonly property: Pick<PropertyAnswer, 'structures' | 'body'>;
}

/** What the form holds. */
export interface Found {
  readonly answers: Answers;
  readonly baitSlots: readonly string[];
  /** As typed; null = as recorded, or else as profile and place say. */
  readonly legal: Legal | null;
}

export type FoundFault =
  | 'needWhy'
  | 'needWhyNot'
  | 'needTermites'
  | 'needBaitLeft'
  | 'needLegal'
  | 'needFound';

export type FoundResult =
  | Extract<CorrectionResult, { readonly ok: true }>
  | { readonly ok: false; readonly fault: FoundFault };

export function openedWording({ corrections }: Entry, body: StationSeenBody): StationSeenBody {
  if (body.finding.reach === 'opened') return body;
  // What stood before a correction was checked when it was recorded.
  const earlier = corrections.map(({ before }) => before.body as StationSeenBody | null);
  return earlier.find((one) => one?.finding.reach === 'opened') ?? body;
}

export function firstFound({ body, opened, state }: Pick<FoundSource, 'body' | 'opened' | 'state'>): Found {
  const first = firstAnswers(state);
  return {
    answers: {
      ...first,
      ...(opened.finding.reach === 'opened' ? opened.finding : {}),
      ...body.finding,
    },
    baitSlots: baitSlotsOf(opened.work),
    legal: null,
  };
}

/** What this station could hold then, and what was recorded, whatever it could hold. */
export interface FoundOptions {
  readonly termites: readonly TermiteFinding[];
  readonly baitLeft: readonly BaitLeft[];
  readonly monitor: readonly MonitorCondition[];
}

export function foundOptions({ opened: { finding }, state }: FoundSource): FoundOptions {
  const recorded = finding.reach === 'opened' ? finding : undefined;
  return {
    termites: withRecorded(TERMITE_FINDINGS, termiteOptions(state), recorded?.termites),
    baitLeft: withRecorded(BAIT_LEFT, baitOptions(state), recorded?.baitLeft),
    monitor: withRecorded(MONITOR_CONDITIONS, monitorOptions(state), recorded?.monitor),
  };
}

function withRecorded<T>(all: readonly T[], possible: readonly T[], recorded: T | undefined): readonly T[] {
  return all.filter((one) => possible.includes(one) || one === recorded);
}

/** Slots that bait can go into, and those that it was recorded in. */
export function slotsForBait({ model, opened }: FoundSource): readonly string[] {
  const known = (model?.slots ?? []).filter(({ holds }) => holds.includes('bait')).map(({ id }) => id);
  return [...new Set([...known, ...baitSlotsOf(opened.work)])];
}

/** Bait went in, so its use record must be here, unless the visit was imported and says where the record is kept. */
export function needsRecord({ opened }: FoundSource, { answers, baitSlots }: Found): boolean {
  if (answers.reach !== 'opened') return false;
  // A record without bait (an import may have one) is kept.
  if (opened.application !== null && baitSlotsOf(opened.work).length === 0) return true;
  const isElsewhere = opened.application === null && (opened.recordKeptElsewhere ?? '').trim() !== '';
  return baitSlots.length > 0 && !isElsewhere;
}

/** Who put bait in is never guessed: whoever corrects is not who was there. */
const NOBODY = { name: '', certificationNumber: null };

export function legalOf({ opened, state, profile, property }: FoundSource, found: Found, w: Words): Legal {
  if (found.legal !== null) return found.legal;
  if (opened.application !== null) return fromApplication(opened.application);
  const blank: Legal = {
    product: '',
    registration: '',
    grams: '',
    location: '',
    area: '',
    site: '',
    applicator: '',
    certificate: '',
    supervised: '',
  };
  if (profile === undefined) return blank;
  const structure = property.structures.find((one) => one.structure === state.structure)?.name ?? '';
  return firstLegal(
    {
      profile,
      grams: profile.baitGramsPerInsert.value * found.baitSlots.length,
      station: state.number,
      structure,
      street: property.body?.address.street ?? '',
      me: NOBODY,
    },
    w,
  );
}

/** Fields of the use record that cannot stand as they are, in the words of the form. */
export function missingLegal(source: FoundSource, found: Found, w: Words): readonly string[] {
  if (!needsRecord(source, found)) return [];
  return lackingIn(legalOf(source, found, w), w);
}

/** The look said anew; undefined while something of the finding is open. */
function saidAnew(source: FoundSource, found: Found, w: Words): StationSeenBody | undefined {
  const finding = findingOf(found.answers);
  if (finding === undefined) return undefined;
  const application = needsRecord(source, found) ? toApplication(legalOf(source, found, w)) : null;
  const { body, opened, model } = source;
  const { baitSlots } = found;
  return correctLook(
    { ...body, work: opened.work },
    { finding, baitSlots, application },
    model?.parts.bait ?? null,
  );
}

/** What the form would change, old beside new. */
export function changesOf(
  source: FoundSource,
  found: Found,
  w: Words,
  days: ReturnType<typeof daysIn>,
): readonly Change[] {
  const body = saidAnew(source, found, w);
  const { entry } = source;
  return body === undefined ? [] : listChanges(entry.fact.kind, entry, { body, at: entry.at }, w, days);
}

/** The correction that a filled form asks for; the day stands as it is. */
export function foundCorrectionOf(
  source: FoundSource,
  found: Found,
  why: string,
  w: Words,
  days: ReturnType<typeof daysIn>,
): FoundResult {
  const { answers } = found;
  const body = saidAnew(source, found, w);
  if (answers.reach !== 'opened' && answers.why.trim() === '') return { ok: false, fault: 'needWhyNot' };
  if (answers.reach === 'opened' && answers.termites === null) return { ok: false, fault: 'needTermites' };
  if (body === undefined) return { ok: false, fault: 'needBaitLeft' };
  if (missingLegal(source, found, w).length > 0) return { ok: false, fault: 'needLegal' };
  if (changesOf(source, found, w, days).length === 0) return { ok: false, fault: 'needFound' };
  if (why.trim() === '') return { ok: false, fault: 'needWhy' };
  const { entry } = source;
  const corrects = entry.fact.id;
  return { ok: true, body: { corrects, why: why.trim(), body, at: momentAgain(entry) } };
}
