import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { feedToText, roundFeed } from '@sillwatch/paper';
import { planGeoJson } from '@sillwatch/rounds';
import {
  createIdMaker,
  isOutdated,
  listPublished,
  openPlanDesk,
  openTravel,
  type PlanProgress,
  type PlanResult,
  readPlanTask,
  readTravelSettings,
  sendRounds,
} from '@sillwatch/server';
import { addDays, type Day, dayToText, type PropertyState, type RoundBody } from '@sillwatch/trade';
import { type CommonOptions, type Context, dayOrToday, ledgerUrl, print, withLedger } from '../context.ts';
import { CommandError, EXIT, type Io } from '../io.ts';
import { describePlan, describeRound } from './planText.ts';

export interface PlanOptions extends CommonOptions {
  readonly branch?: string;
  readonly from?: string;
  readonly weeks: string;
  readonly seconds: string;
  readonly iterations?: string;
  readonly seed: string;
  readonly publish?: boolean;
  readonly by: string;
  readonly geojson?: string;
  readonly calendar?: string;
}

const MOST_WEEKS = 13;
const MOST_SECONDS = 86_400;

/** `sillwatch plan`: the rounds of a branch over the coming weeks; with --publish they are sent out. */
export async function runPlan(io: Io, options: PlanOptions): Promise<number> {
  const weeks = readNumber('--weeks', options.weeks, 1, MOST_WEEKS);
  const seconds = readNumber('--seconds', options.seconds, 0.1, MOST_SECONDS);
  const seed = readNumber('--seed', options.seed, 0, 0x7f_ff_ff_ff);
  const iterations =
    options.iterations === undefined
      ? null
      : readNumber('--iterations', options.iterations, 1, Number.MAX_SAFE_INTEGER);
  return withLedger(io, options, async (context) => {
    const branch = await chooseBranch(context, options.branch);
    const today = dayOrToday(io, undefined, branch.timeZone);
    const from =
      options.from === undefined ? addDays(today, 1) : dayOrToday(io, options.from, branch.timeZone);
    const begunAt = new Date(io.now()).toISOString();
    const { result, properties } = await search(context, options, {
      plan: createIdMaker(io.now)(),
      branch: branch.branch,
      from,
      days: weeks * 7,
      today,
      budget: { seconds, iterations, seed, threads: availableParallelism() },
    });
    const { plan } = result;
    await writeFiles(context, options, plan.rounds, properties);
    const names = new Map(properties.map((state) => [state.property, state]));
    print(context, result, () => describePlan(result, names));
    if (options.publish !== true) return EXIT.ok;
    if (await isOutdated(context.ledger, context.firm, plan, begunAt))
      throw new CommandError(
        EXIT.found,
        'other rounds of these days were sent out while this plan was made',
        'Plan anew: the new plan starts from what was sent out.',
      );
    const sending = { version: 1, by: options.by, at: new Date(io.now()).toISOString() };
    const sent = await sendRounds(context.ledger, context.firm, plan, new Set(), sending, io.now);
    io.err(
      `Sent out: ${sent.rounds} rounds with ${sent.visits} visits; ${sent.emptied} earlier rounds emptied.\n`,
    );
    return EXIT.ok;
  });
}

interface Wanted {
  readonly plan: string;
  readonly branch: string;
  readonly from: Day;
  readonly days: number;
  readonly today: Day;
  readonly budget: {
    readonly seconds: number;
    readonly iterations: number | null;
    readonly seed: number;
    readonly threads: number;
  };
}

async function search(
  { io, ledger, firm }: Context,
  options: PlanOptions,
  { budget, ...wanted }: Wanted,
): Promise<{ readonly result: PlanResult; readonly properties: readonly PropertyState[] }> {
  const travel = await openTravelNamed(io, options);
  const stopping = new AbortController();
  const progress = createFalling(io);
  try {
    const task = await readPlanTask(ledger, firm, { ...wanted, draft: null }, travel, stopping.signal);
    const desk = openPlanDesk(task);
    try {
      const answer = await desk.search(budget, stopping.signal, {
        onProgress: progress.step,
        onBetter: () => undefined,
      });
      progress.end();
      if (answer.kind === 'plan') return { result: answer.result, properties: task.properties };
      throw new CommandError(
        EXIT.found,
        answer.kind === 'refused' ? answer.why : 'no plan was found',
        'Correct what is named: see `sillwatch due` and the technicians of the branch.',
      );
    } finally {
      await desk.close();
    }
  } finally {
    travel.cache.close();
  }
}

/** The setting that does not work is named. */
async function openTravelNamed(io: Io, options: PlanOptions): ReturnType<typeof openTravel> {
  try {
    return await openTravel(ledgerUrl(io, options.data), readTravelSettings(io.env), io.now);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new CommandError(EXIT.usage, error.message, 'Change the setting that is named.');
  }
}

async function chooseBranch(
  { ledger, firm }: Context,
  asked: string | undefined,
): Promise<{ readonly branch: string; readonly timeZone: string }> {
  const branches = Object.values((await ledger.getFirm(firm)).branches);
  const [only, ...others] = branches;
  const found =
    asked === undefined && others.length === 0 ? only : branches.find(({ branch }) => branch === asked);
  if (found !== undefined) return found;
  const known = branches.map(({ branch }) => branch).join(', ') || 'none yet';
  throw asked === undefined
    ? new CommandError(
        EXIT.usage,
        'this firm has several branches or none',
        `Name one with --branch: ${known}.`,
      )
    : new CommandError(EXIT.missing, `no branch ${JSON.stringify(asked)}`, `The firm has: ${known}.`);
}

/** The cost as it falls, rewritten in place at a terminal and silent in a pipe. */
function createFalling(io: Io): {
  readonly step: (progress: PlanProgress) => void;
  readonly end: () => void;
} {
  if (!io.isTerminal) return { step: () => undefined, end: () => undefined };
  const width = 24;
  return {
    step: ({ share, costMinutes, rounds, unplannedVisits }) => {
      const filled = Math.round(width * Math.min(1, share));
      io.err(
        `\rplanning [${'#'.repeat(filled)}${'-'.repeat(width - filled)}] cost ${(costMinutes / 60).toFixed(1)} h, ` +
          `${rounds} rounds, ${unplannedVisits} not planned   `,
      );
    },
    end: () => io.err('\n'),
  };
}

async function writeFiles(
  { io, ledger, firm }: Context,
  options: PlanOptions,
  rounds: readonly RoundBody[],
  properties: readonly PropertyState[],
): Promise<void> {
  if (options.geojson !== undefined) {
    const features = planGeoJson(rounds, properties, await ledger.getFirm(firm));
    writeFileSync(options.geojson, `${JSON.stringify(features, null, 2)}\n`);
  }
  if (options.calendar !== undefined) {
    const feed = roundFeed({
      personName: 'all technicians',
      rounds,
      properties: new Map(properties.map((state) => [state.property, state])),
      stampMs: io.now(),
    });
    writeFileSync(options.calendar, feedToText(feed));
  }
}

/** `sillwatch round PERSON DAY`: one technician's round as it was sent out. */
export async function runRound(io: Io, person: string, day: string, options: CommonOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const wanted = dayToText(dayOrToday(io, day, 'UTC'));
    const rounds = await listPublished(context.ledger, context.firm);
    const round = rounds.find((one) => one.person === person && one.day === wanted);
    if (round === undefined) {
      const days = rounds.filter((one) => one.person === person && one.day >= wanted).slice(0, 5);
      throw new CommandError(
        EXIT.missing,
        `no round of ${JSON.stringify(person)} on ${wanted} was sent out`,
        days.length === 0
          ? `People with rounds: ${[...new Set(rounds.map((one) => one.person))].join(', ') || 'none; see `sillwatch plan --publish`'}.`
          : `The next ones: ${days.map((one) => one.day).join(', ')}.`,
      );
    }
    const ids = [...new Set(round.visits.map(({ property }) => property))];
    const states = await Promise.all(ids.map((id) => context.ledger.findProperty(context.firm, id)));
    const names = new Map(states.flatMap((state) => (state === undefined ? [] : [[state.property, state]])));
    const { technicians } = await context.ledger.getFirm(context.firm);
    print(context, round, () => describeRound(round, technicians[person]?.name ?? person, names));
    return EXIT.ok;
  });
}

function readNumber(option: string, text: string, least: number, most: number): number {
  const value = Number(text);
  const isWhole = Number.isInteger(value) || option === '--seconds';
  if (text.trim() !== '' && isWhole && value >= least && value <= most) return value;
  throw new CommandError(
    EXIT.usage,
    `${option} ${JSON.stringify(text)} does not fit`,
    `Give a ${option === '--seconds' ? '' : 'whole '}number from ${least} to ${most}.`,
  );
}
