import { createHash } from 'node:crypto';
import type { Ledger } from '@sillwatch/ledger';
import type { BranchPlan } from '@sillwatch/rounds';
import { type AnyFact, clockToText, dayToText, type RoundBody, uuidV7 } from '@sillwatch/trade';
import { Problem } from '../http/problems.ts';
import { createToday } from '../work/days.ts';
import type { PlanJob, PlanStore, Publishing } from './planStore.ts';
import { listPublished } from './readTask.ts';

export interface Published {
  /** Rounds sent out now, and earlier ones of the same days that are emptied by them. */
  readonly rounds: number;
  readonly emptied: number;
  readonly visits: number;
}

/**
 * Sends the rounds of a kept plan out as facts, in one transaction: all of them or none. Repeated, also after a crash in
 * between, it makes the same facts and changes nothing.
 */
export async function publishPlan(
  store: PlanStore,
  ledger: Ledger,
  job: PlanJob,
  by: string,
  now: () => number,
): Promise<Published> {
  if (job.result === null)
    throw new Problem('plan not ready', `The plan is ${job.state}; it has no rounds to send out.`);
  const isRepeated =
    job.publishing !== null &&
    (job.publishing.version === job.version ||
      (job.publishedAt === job.publishing.at && job.publishing.version + 1 === job.version));
  const sending =
    isRepeated && job.publishing !== null
      ? job.publishing
      : { version: job.version, by, at: new Date(now()).toISOString() };
  const { plan } = job.result;
  const outdated = await isOutdated(ledger, job.firm, plan, job.askedAt);
  if (outdated)
    throw new Problem('plan outdated', 'Other rounds of these days were sent out after this plan was begun.');
  if (sending !== job.publishing && !(await store.setPublishing(job, sending)))
    throw new Problem('plan changed', 'The plan was changed by somebody else meanwhile.');
  const sent = await sendRounds(ledger, job.firm, plan, new Set(job.frozen), sending, now);
  if (job.publishedAt !== sending.at) await store.setPublished(job, sending.at);
  return sent;
}

/** Whether rounds of the plan's days that are not its own were sent out since: it would undo them unawares. */
export async function isOutdated(
  ledger: Ledger,
  firm: string,
  { plan, branch, from, to }: BranchPlan,
  since: string,
): Promise<boolean> {
  const within = (await listPublished(ledger, firm)).filter(
    (round) => round.branch === branch && round.day >= from && round.day <= to && round.plan !== plan,
  );
  if (within.length === 0) return false;
  const others = new Set(within.map((round) => round.plan));
  const facts = await ledger.listFacts(firm, { kinds: ['round published'], limit: MOST_FACTS });
  return facts.some(
    ({ body, receipt }) =>
      typeof body === 'object' &&
      body !== null &&
      'plan' in body &&
      typeof body.plan === 'string' &&
      others.has(body.plan) &&
      (receipt?.receivedAt ?? '') > since,
  );
}

const MOST_FACTS = 1_000_000;

/**
 * Appends the rounds as facts in one transaction, and empties earlier ones of its days that the plan no longer has. Days that
 * are past are left as they are. The same plan and `sending` make the same facts.
 */
export async function sendRounds(
  ledger: Ledger,
  firm: string,
  plan: BranchPlan,
  frozen: ReadonlySet<string>,
  sending: Publishing,
  now: () => number,
): Promise<Published> {
  const today = dayToText(createToday(now()).inZone(plan.timeZone));
  const planned = plan.rounds.map((round) => withFrozen(round, frozen));
  const kept = new Set(planned.map(keyOf));
  const emptied = (await listPublished(ledger, firm))
    .filter(
      (round) =>
        round.branch === plan.branch &&
        round.day >= plan.from &&
        round.day <= plan.to &&
        !kept.has(keyOf(round)),
    )
    .map((round): RoundBody => ({ ...round, plan: plan.plan, visits: [] }));
  // Numbered before past days are left out, so that a repetition on the next day numbers them alike.
  const facts = toFacts(firm, plan.plan, sending, [...planned, ...emptied]).filter(
    ({ body }) => body.day >= today,
  );
  if (facts.length > 0) {
    const verdicts = await ledger.append(firm, facts, new Date(now()).toISOString());
    const refused = verdicts.find(({ verdict }) => verdict === 'refused');
    if (refused?.verdict === 'refused') throw new Error(`the ledger refused a round: ${refused.detail}`);
  }
  const sent = planned.filter(({ day }) => day >= today);
  return {
    rounds: sent.length,
    emptied: emptied.filter(({ day }) => day >= today).length,
    visits: sent.reduce((sum, { visits }) => sum + visits.length, 0),
  };
}

function withFrozen(round: RoundBody, frozen: ReadonlySet<string>): RoundBody {
  return {
    ...round,
    visits: round.visits.map((visit) => (frozen.has(visit.visit) ? { ...visit, frozen: true } : visit)),
  };
}

function keyOf({ person, day }: RoundBody): string {
  return `${day} ${person}`;
}

type RoundFact = AnyFact & { readonly body: RoundBody };

/** Ids come from what is sent and when, so that the same publication has the same ids. */
function toFacts(
  firm: string,
  plan: string,
  { at, by, version }: Publishing,
  bodies: readonly RoundBody[],
): readonly RoundFact[] {
  const ms = Date.parse(at);
  const device = `plan-${plan}-${version}`;
  return bodies.map((body, index) => {
    const digest = createHash('sha256')
      .update(`${device} ${keyOf(body)}`)
      .digest();
    return {
      id: uuidV7(ms, new Uint8Array(digest.subarray(0, 10))),
      firm,
      property: null,
      station: null,
      by,
      device,
      seq: index + 1,
      at: at.replace('Z', '+00:00'),
      clock: clockToText({ ms, count: index }),
      kind: 'round published',
      body,
    };
  });
}
