/** Runs in a worker thread: holds one plan's problem, searches it, and moves visits about in it. Touches no database. */
import { parentPort, workerData } from 'node:worker_threads';
import { assignmentOf, type Plan } from '@sillwatch/planner';
import {
  applyMove,
  assignmentToRounds,
  comparePlans,
  type PlanProblem,
  planToRounds,
  type ReadRounds,
  type RoundsOptions,
  readRounds,
  tryMove,
  type VisitNeed,
} from '@sillwatch/rounds';
import type { RoundBody } from '@sillwatch/trade';
import { planProblemOf } from './planProblemOf.ts';
import type { DeskAnswer, DeskMessage, DeskQuestion, PlanResult, TaskHead, TaskPiece } from './planTask.ts';
import { searchPlan } from './search.ts';

const port = parentPort;
if (port === null) throw new Error('this file runs as a worker only');
const head: TaskHead = workerData;
const pieces: TaskPiece[] = [];
const post = (message: DeskMessage): void => port.postMessage(message);

let held: PlanProblem | undefined;
let draft: readonly RoundBody[] = head.draft ?? [];
/** The draft as the planner reads it, until it changes: a visit that is dragged about asks at every cell. */
let known: { readonly draft: readonly RoundBody[]; readonly read: ReadRounds } | undefined;

type Asked = { readonly number: number; readonly question: DeskQuestion } | { readonly piece: TaskPiece };

port.on('message', (message: Asked) => {
  if ('piece' in message) {
    pieces.push(message.piece);
    return;
  }
  const { number, question } = message;
  try {
    post({ number, answer: answerTo(question) });
  } catch (error) {
    // What the planner and the rounds refuse, they refuse with a RangeError in words.
    if (!(error instanceof RangeError)) throw error;
    post({ number, answer: { kind: 'refused', why: error.message } });
  }
});

function answerTo(question: DeskQuestion): DeskAnswer {
  held ??= planProblemOf({
    ...head,
    properties: pieces.flatMap(({ properties }) => properties),
    records: pieces.flatMap(({ records }) => records),
  });
  // Held once more in the problem, as far as it is needed.
  pieces.length = 0;
  const built = held;
  switch (question.kind) {
    case 'search':
      return { kind: 'plan', result: search(built, question) };
    case 'show':
      return { kind: 'plan', result: show(built) };
    case 'try':
      return { kind: 'tried', outcome: tryMove(built, draft, question.visit, question.to, readDraft(built)) };
    case 'apply': {
      const read = readDraft(built);
      // Work that was in no round becomes a visit here: its key would come again in a later plan, an id must not.
      const { newVisitId } = optionsWith(read);
      const outcome = tryMove(built, draft, question.visit, question.to, read, newVisitId);
      if (!outcome.ok) return { kind: 'applied', outcome, result: null };
      draft = applyMove(draft, outcome.move);
      return { kind: 'applied', outcome, result: show(built) };
    }
  }
}

function search(
  built: PlanProblem,
  { budget, stop }: Extract<DeskQuestion, { readonly kind: 'search' }>,
): PlanResult {
  const read = draft.length === 0 ? undefined : readRounds(built, draft);
  const options = optionsWith(read);
  const plan = searchPlan(built, head.travel, read?.assignment, budget, stop, {
    onProgress: (progress) => post({ progress }),
    onBetter: (better) => post({ rounds: roundsOf(built, better, options) }),
  });
  const whole = planToRounds(built, plan, options);
  draft = whole.rounds;
  return { plan: whole, comparison: comparePlans(built, draft), notes: head.travel.notes };
}

/** Without looking for remedies: to be kept in case this process ends before the search does. */
function roundsOf(built: PlanProblem, plan: Plan, options: RoundsOptions): readonly RoundBody[] {
  return assignmentToRounds(built, assignmentOf(plan), { ...options, mostRemedies: 0 }).rounds;
}

function readDraft(built: PlanProblem): ReadRounds {
  if (known?.draft !== draft) known = { draft, read: readRounds(built, draft) };
  return known.read;
}

function show(built: PlanProblem): PlanResult {
  const read = readDraft(built);
  const plan = assignmentToRounds(built, read.assignment, optionsWith(read));
  draft = plan.rounds;
  return { plan, comparison: comparePlans(built, draft), notes: head.travel.notes };
}

/** Visits keep the ids they have; a new one is named after the plan, its property and its order there. */
function optionsWith(read: ReadRounds | undefined): RoundsOptions {
  const known = read?.visitByJob ?? new Map<number, string>();
  const taken = new Set(known.values());
  const given = new Map<number, string>();
  return {
    plan: head.plan,
    newVisitId: (need: VisitNeed) => {
      const kept = known.get(need.job) ?? given.get(need.job);
      if (kept !== undefined) return kept;
      const name = `${head.plan}-${need.property}`;
      let order = need.order + 1;
      while (taken.has(`${name}-${order}`)) order += 1;
      taken.add(`${name}-${order}`);
      given.set(need.job, `${name}-${order}`);
      return `${name}-${order}`;
    },
  };
}
