import {
  type Application,
  type LabelProfile,
  type StationModel,
  type StationSeenBody,
  type StationState,
  type StepId,
  type Steps,
  stepsFor,
  type Task,
} from '@sillwatch/trade';
import { type Answers, findingOf, firstAnswers, monitorOptions } from '../../desk/station/answers.ts';
import { fromApplication, type Legal } from '../../shared/legal.ts';
import { stepsFollowed, workOf } from './done.ts';

/** All that is entered at one station, half done or whole. Small JSON: it is kept as a draft. */
export interface Entry {
  readonly answers: Answers;
  /** Whether somebody has said that monitor, housing and cap are as they should be, or what is not. */
  readonly isRestAnswered: boolean;
  /** True while the parts of the rest are being told apart. */
  readonly isRestOpen: boolean;
  readonly task: Task;
  readonly note: string;
  readonly photos: readonly string[];
  /** Steps that were not done. */
  readonly left: readonly StepId[];
  /** Counted by hand; null = as the steps say. */
  readonly parts: Readonly<Record<string, number>> | null;
  /** As typed; null = as profile and person say. */
  readonly legal: Legal | null;
}

export function firstEntry(state: StationState, task: Task): Entry {
  return {
    answers: firstAnswers(state),
    isRestAnswered: false,
    isRestOpen: false,
    task,
    note: '',
    photos: [],
    left: [],
    parts: null,
    legal: null,
  };
}

/** What was recorded, laid out again to be corrected. */
export function entryOf(body: StationSeenBody, state: StationState, steps: Steps | undefined): Entry {
  const { finding, work } = body;
  const answers: Answers =
    finding.reach === 'opened'
      ? { ...firstAnswers(state), ...finding, why: '' }
      : { ...firstAnswers(state), reach: finding.reach, why: finding.why };
  const wasAsked = steps === undefined ? null : workOf(steps, null, null).partsUsed;
  return {
    ...firstEntry(state, body.task),
    answers,
    isRestAnswered: true,
    note: body.note,
    photos: body.photos,
    parts: wasAsked !== null && sameCounts(wasAsked, work.partsUsed) ? null : work.partsUsed,
    legal: body.application === null ? null : fromApplication(body.application),
  };
}

function sameCounts(a: Readonly<Record<string, number>>, b: Readonly<Record<string, number>>): boolean {
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].every(
    (part) => (a[part] ?? 0) === (b[part] ?? 0),
  );
}

/** The question that comes next; `steps` = everything has been seen, and the rules can speak. */
export type Question = 'termites' | 'bait left' | 'rest' | 'why not' | 'steps';

export function nextQuestion({ answers, isRestAnswered }: Entry): Question {
  if (answers.reach !== 'opened') return answers.why.trim() === '' ? 'why not' : 'steps';
  if (answers.termites === null) return 'termites';
  if (answers.baitLeft === null) return 'bait left';
  return isRestAnswered ? 'steps' : 'rest';
}

export interface Verdict {
  /** What the rules ask for. */
  readonly asked: Steps;
  /** What of it was followed. */
  readonly followed: Steps;
}

/** undefined while something still has to be looked at. */
export function verdictOf(
  entry: Entry,
  source: { readonly state: StationState; readonly model: StationModel; readonly profile: LabelProfile },
): Verdict | undefined {
  const finding = findingOf(entry.answers);
  if (finding === undefined || nextQuestion(entry) !== 'steps') return undefined;
  const asked = stepsFor({ ...source, task: entry.task, finding });
  return { asked, followed: stepsFollowed(asked, new Set(entry.left), source.profile) };
}

/** The record's body; throws where something has not been looked at: ask `verdictOf` first. */
export function bodyOf(
  entry: Entry,
  { followed }: Verdict,
  visit: string,
  application: Application | null,
  minutes: number | null = null,
): StationSeenBody {
  const finding = findingOf(entry.answers);
  if (finding === undefined) throw new Error('nothing is recorded before it has been seen');
  return {
    visit,
    task: entry.task,
    finding,
    work: workOf(followed, entry.parts, minutes),
    application: followed.baitGrams > 0 ? application : null,
    note: entry.note.trim(),
    photos: entry.photos,
  };
}

/** Whether "all as it should be" can be said: a station without the monitor that it ought to hold is not. */
export function canBeSound(state: StationState): boolean {
  return monitorOptions(state).length === 0 || firstAnswers(state).monitor === 'sound';
}
