import { setTimeout as sleep } from 'node:timers/promises';
import { z } from '@hono/zod-openapi';
import type { MoveOutcome } from '@sillwatch/rounds';
import { addDays, dayToText } from '@sillwatch/trade';
import { EVERY_ROLE, OFFICE } from '../accounts/roles.ts';
import type { Person, Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import type { PlanDepot } from '../plans/planDepot.ts';
import type { PlanJob } from '../plans/planStore.ts';
import type { DeskAnswer } from '../plans/planTask.ts';
import { publishPlan } from '../plans/publish.ts';
import { createToday, readDay } from '../work/days.ts';
import { jobSchema, moveResult, planAnswer } from './planSchemas.ts';
import { dayText, list } from './schemas.ts';

/** The longest time a request waits for news; proxies give up after half a minute. */
const MOST_WAIT_SECONDS = 25;
const LOOK_MILLISECONDS = 250;
const MOST_SECONDS = 3600;
const DEFAULT_WEEKS = 4;
const MOST_WEEKS = 13;

export interface PlanServices extends Services {
  readonly plans: PlanDepot;
}

export function addPlanRoutes(app: App, services: PlanServices): void {
  const { plans, ledger, deps } = services;
  const { store } = plans;

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/plans',
      tag: 'work',
      summary: 'Plan the rounds of a branch: a search that runs on while its progress is read',
      roles: OFFICE,
      body: z.object({
        branch: z.string().min(1).max(200),
        /** first day; default: tomorrow, where the branch is */
        from: dayText.optional(),
        weeks: z.number().int().min(1).max(MOST_WEEKS).default(DEFAULT_WEEKS),
        /** how long to search */
        seconds: z.number().min(0.1).max(MOST_SECONDS).default(30),
        /** instead of time, in one thread: the same seed then gives the same rounds */
        iterations: z.number().int().min(1).max(100_000_000).optional(),
        seed: z.number().int().min(0).max(0x7f_ff_ff_ff).default(1),
      }),
      status: 201,
      result: jobSchema,
    },
    async ({ person, body }) => {
      checkBranch(person, body.branch);
      const branch = (await ledger.getFirm(person.firm)).branches[body.branch];
      if (branch === undefined)
        throw new Problem('not found', `The firm has no branch ${JSON.stringify(body.branch)}.`);
      const tomorrow = addDays(createToday(deps.now()).inZone(branch.timeZone), 1);
      const job = {
        firm: person.firm,
        id: deps.newId(),
        branch: body.branch,
        request: {
          from: dayToText(body.from === undefined ? tomorrow : readDay(body.from, 'body.from')),
          days: body.weeks * 7,
          seconds: body.seconds,
          iterations: body.iterations ?? null,
          seed: body.seed,
        },
        askedBy: person.id,
        askedAt: new Date(deps.now()).toISOString(),
      };
      await store.add(job);
      plans.poke();
      return showJob(await getJob(job.id, person));
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/plans',
      tag: 'work',
      summary: 'Plans made so far, the latest first',
      roles: EVERY_ROLE,
      query: z.object({
        branch: z.string().min(1).optional(),
        limit: z.coerce.number().int().min(1).max(100).default(20),
      }),
      result: z.object({ plans: list(jobSchema) }),
    },
    async ({ person, query }) => {
      const jobs = await store.list(person.firm, query.branch ?? person.branch ?? undefined, query.limit);
      return { plans: jobs.filter((job) => mayOpen(person, job.branch)).map(showJob) };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/plans/{id}',
      tag: 'work',
      summary:
        'A plan: its progress while it is made, its rounds when it is done. `after` waits for a later version',
      roles: EVERY_ROLE,
      params: z.object({ id: z.string().min(1).max(200) }),
      query: z.object({
        /** answers when the version is greater, or the time is over */
        after: z.coerce.number().int().min(0).optional(),
        waitSeconds: z.coerce.number().min(0).max(MOST_WAIT_SECONDS).default(20),
      }),
      result: planAnswer,
    },
    async ({ person, params, query, context }) => {
      if (query.after !== undefined)
        await waitForNews(person.firm, params.id, query.after, query.waitSeconds, context.req.raw.signal);
      const job = await getJob(params.id, person);
      // Weak: what packs the answer on the way makes other bytes of it (RFC 9110, section 8.8.3).
      const tag = `W/"${job.version}"`;
      if (context.req.header('if-none-match') === tag)
        return new Response(null, { status: 304, headers: { etag: tag, 'cache-control': 'no-cache' } });
      context.header('etag', tag);
      return showPlan(job);
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/plans/{id}/cancel',
      tag: 'work',
      summary: 'Stop the search; the best rounds found by then are kept',
      roles: OFFICE,
      params: z.object({ id: z.string().min(1).max(200) }),
      result: jobSchema,
    },
    async ({ person, params }) => {
      const job = await getJob(params.id, person);
      await store.askStop(job.firm, job.id);
      return showJob(await getJob(params.id, person));
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/plans/{id}/moves',
      tag: 'work',
      summary:
        'Try a visit on another day, with another technician or at another place in the round; `apply` keeps it. ' +
        'Or freeze visits, so that later plans leave them where they are',
      roles: OFFICE,
      params: z.object({ id: z.string().min(1).max(200) }),
      body: z.discriminatedUnion('kind', [
        z.object({
          kind: z.enum(['try', 'apply']),
          visit: z.string().min(1),
          person: z.string().min(1),
          day: dayText,
          /** place in the round, 0 = first; absent = the best one */
          position: z.number().int().min(0).optional(),
          /** the version that was looked at; absent = whatever it is now */
          version: z.number().int().optional(),
        }),
        z.object({
          kind: z.enum(['freeze', 'thaw']),
          visits: z.array(z.string().min(1)).min(1).max(5000),
          version: z.number().int().optional(),
        }),
      ]),
      maxBodyBytes: 512 * 1024,
      result: z.object({ move: moveResult.nullable(), plan: planAnswer.nullable() }),
    },
    async ({ person, params, body }) => {
      const job = await getJob(params.id, person);
      if (body.version !== undefined && body.version !== job.version) throw changed();
      if ('visits' in body) return { move: null, plan: await freeze(job, body.kind, body.visits, person) };
      const desk = await plans.openDesk(job);
      const to = {
        person: body.person,
        day: body.day,
        ...(body.position === undefined ? {} : { position: body.position }),
      };
      const answer = await desk.ask({ kind: body.kind, visit: body.visit, to });
      if (answer.kind === 'tried') return { move: getMove(answer.outcome), plan: null };
      if (answer.kind !== 'applied') throw refusal(answer);
      const move = getMove(answer.outcome);
      if (!(await store.saveDraft(job, { result: answer.result, frozen: job.frozen }))) {
        plans.dropDesk(job);
        throw changed();
      }
      plans.keepDesk(job, job.version + 1);
      return { move, plan: showPlan(await getJob(params.id, person)) };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/plans/{id}/publish',
      tag: 'work',
      summary: 'Send the rounds out: all of them at once, as facts. Repeated, it changes nothing',
      roles: OFFICE,
      params: z.object({ id: z.string().min(1).max(200) }),
      result: z.object({
        rounds: z.number().int(),
        emptied: z.number().int(),
        visits: z.number().int(),
      }),
    },
    async ({ person, params }) =>
      publishPlan(store, ledger, await getJob(params.id, person), person.id, deps.now),
  );

  async function getJob(id: string, person: Person): Promise<PlanJob> {
    const job = await store.find(person.firm, id);
    if (job === undefined || !mayOpen(person, job.branch))
      throw new Problem('not found', `There is no plan ${JSON.stringify(id)}.`);
    return job;
  }

  async function waitForNews(
    firm: string,
    id: string,
    after: number,
    seconds: number,
    signal: AbortSignal,
  ): Promise<void> {
    const until = deps.now() + seconds * 1000;
    for (;;) {
      const version = await store.findVersion(firm, id);
      if (
        version === undefined ||
        version > after ||
        deps.now() >= until ||
        signal.aborted ||
        plans.isEnding()
      )
        return;
      await sleep(LOOK_MILLISECONDS);
    }
  }

  async function freeze(
    job: PlanJob,
    kind: 'freeze' | 'thaw',
    visits: readonly string[],
    person: Person,
  ): Promise<z.input<typeof planAnswer>> {
    if (job.result === null) throw notReady(job);
    const known = new Set(job.result.plan.rounds.flatMap((round) => round.visits.map(({ visit }) => visit)));
    const unknown = visits.find((visit) => !known.has(visit));
    if (unknown !== undefined)
      throw new Problem('not found', `The plan has no visit ${JSON.stringify(unknown)} in a round.`);
    const frozen = new Set(job.frozen);
    for (const visit of visits) {
      if (kind === 'freeze') frozen.add(visit);
      else frozen.delete(visit);
    }
    if (!(await store.saveDraft(job, { result: job.result, frozen: [...frozen].sort() }))) throw changed();
    plans.keepDesk(job, job.version + 1);
    return showPlan(await getJob(job.id, person));
  }
}

function mayOpen(person: Person, branch: string): boolean {
  return person.branch === null || person.branch === branch;
}

function checkBranch(person: Person, branch: string): void {
  if (!mayOpen(person, branch))
    throw new Problem('not allowed', `You belong to the branch ${person.branch}; this is ${branch}.`);
}

function changed(): Problem {
  return new Problem('plan changed', 'The plan is no longer what was looked at.');
}

function notReady(job: PlanJob): Problem {
  return new Problem('plan not ready', `The plan is ${job.state}.`);
}

function refusal(answer: DeskAnswer): Problem {
  return new Problem('move refused', answer.kind === 'refused' ? answer.why : 'The plan gave no answer.');
}

function getMove(outcome: MoveOutcome): z.input<typeof moveResult> {
  if (outcome.ok) return outcome.move;
  const { why } = outcome;
  if (why.code === 'no such visit') throw new Problem('not found', 'No round of the plan has this visit.');
  // The bare reason goes along, for screens that say it in the reader's language.
  const [at, reason] = why.code === 'cannot drive that day' ? ['body.day', why.reason] : ['body', why.code];
  throw new Problem('move refused', at === 'body.day' ? `${why.code}: ${reason}` : reason, {
    errors: [{ at, message: reason }],
  });
}

function showJob(job: PlanJob): z.input<typeof jobSchema> {
  const { request, publishing, publishedAt } = job;
  return {
    id: job.id,
    branch: job.branch,
    state: job.state,
    version: job.version,
    from: request.from,
    days: request.days,
    seconds: request.seconds,
    seed: request.seed,
    askedBy: job.askedBy,
    askedAt: job.askedAt,
    endedAt: job.endedAt,
    progress: job.progress,
    why: job.why,
    publishedAt,
    changedSince: publishedAt !== null && publishing !== null && publishing.version + 1 !== job.version,
    frozen: job.frozen,
  };
}

function showPlan(job: PlanJob): z.input<typeof planAnswer> {
  const { result } = job;
  const frozen = new Set(job.frozen);
  const plan = result?.plan ?? null;
  return {
    ...showJob(job),
    plan:
      plan === null
        ? null
        : {
            ...plan,
            rounds: plan.rounds.map((round) => ({
              ...round,
              visits: round.visits.map((visit) => ({
                ...visit,
                frozen: visit.frozen || frozen.has(visit.visit),
              })),
            })),
          },
    comparison: result?.comparison ?? null,
    notes: result?.notes ?? [],
  };
}
