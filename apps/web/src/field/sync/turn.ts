import type { Notebook } from '../store/notebook.ts';
import type { SyncProblem } from '../store/port.ts';
import type { OwnRow } from '../store/shelf.ts';
import { wantedProperties } from '../store/views.ts';
import { fetchThumbnails, sendPhotos } from './photoTurn.ts';
import { orStop, Stop, type TurnResult } from './stop.ts';
import type { AskedProperty, PullAnswer, Transport } from './wire.ts';

/** Facts and bytes of one request. Small enough that a weak line gets one through between two cuts. */
const MOST_FACTS = 200;
const MOST_BYTES = 400_000;
const MOST_PROPERTIES = 100;
/** The due list of the branch is asked for at most so often: it costs the server a walk over all properties. */
/** A wish whose visit was never closed is given up. */
const REPORT_WAITS_MS = 30 * 86_400_000;
const DUE_EVERY_MS = 30 * 60_000;

/**
 * One whole turn: who am I, send in order, fetch. Every step is safe to be cut at any point and done again: the server
 * knows a fact by its id, and a fact leaves this phone's queue only in the transaction that stores its receipt.
 */
export async function syncTurn(
  notebook: Notebook,
  line: Transport,
  looked: Map<string, number> = new Map(),
): Promise<TurnResult> {
  if (notebook.who.standing === 'former') return { problem: 'no longer of the firm' };
  try {
    await hello(notebook, line);
    await sendFacts(notebook, line);
    await sendPhotos(notebook, line);
    await fetchFacts(notebook, line);
    await notebook.noteFetched();
    await fetchThumbnails(notebook, line, looked);
    await askReports(notebook, line);
    return { problem: null };
  } catch (error) {
    if (error instanceof Stop) return error.result;
    throw error;
  }
}

/** Nothing is sent before it is known that the session is this person's: the server would refuse each fact for good. */
async function hello(notebook: Notebook, line: Transport): Promise<void> {
  for (;;) {
    const askedAt = notebook.deps.now();
    const reply = await line.pull(notebook.firm.upTo);
    if (!reply.ok && reply.problem === 'sign in again') await askStanding(notebook, line);
    const said = orStop(reply);
    if (!isSamePerson(notebook, said)) throw new Stop({ problem: 'other person signed in' });
    await notebook.applyFirm({
      me: said.me,
      facts: said.facts,
      upTo: said.upTo,
      names: said.names.map(({ id, name }) => [id, name] as const),
      // The server wrote its time somewhere between question and answer.
      clockOffMs: (askedAt + notebook.deps.now()) / 2 - Date.parse(said.now),
    });
    if (said.me.mustChangePassword) throw new Stop({ problem: 'password must be changed' });
    if (!said.more) return;
  }
}

function isSamePerson(notebook: Notebook, { me }: PullAnswer): boolean {
  const own = notebook.who.me;
  return me.id === own.id && me.firm.id === own.firm.id;
}

/** A session that ran out is no end; only the server's own word that the person has left is. */
async function askStanding(notebook: Notebook, line: Transport): Promise<void> {
  const { id, firm } = notebook.who.me;
  const reply = await line.standing(firm.id, id);
  if (!reply.ok || reply.value !== 'former') return;
  await notebook.endMembership();
  throw new Stop({ problem: 'no longer of the firm' });
}

async function sendFacts(notebook: Notebook, line: Transport): Promise<void> {
  let most = MOST_FACTS;
  for (;;) {
    const batch = nextBatch(notebook.own, most);
    if (batch.length === 0) return;
    const reply = await line.sendFacts(batch.map(({ fact }) => fact));
    if (!reply.ok && reply.unfit !== undefined) {
      // One fact that the door chokes on must not hold up the others: halve until it stands alone.
      if (batch.length > 1) {
        most = Math.ceil(batch.length / 2);
        continue;
      }
      const [row] = batch;
      if (row !== undefined)
        await notebook.applyVerdicts(batch, [
          { id: row.fact.id, verdict: 'refused', code: 'malformed', detail: reply.unfit },
        ]);
      most = MOST_FACTS;
      continue;
    }
    const verdicts = orStop(reply);
    if (verdicts.some((one) => one.verdict === 'refused' && one.code === 'not allowed')) {
      // Somebody else may have signed in between the greeting and this; then these verdicts are not about us.
      if (!isSamePerson(notebook, orStop(await line.pull(notebook.firm.upTo))))
        throw new Stop({ problem: 'other person signed in' });
    }
    const known = new Set(verdicts.map(({ id }) => id));
    // A verdict for each, or the queue would turn on the spot.
    if (!batch.every(({ fact }) => known.has(fact.id))) throw new Stop({ problem: 'server trouble' });
    await notebook.applyVerdicts(batch, verdicts);
  }
}

function nextBatch(own: readonly OwnRow[], most: number): readonly OwnRow[] {
  const batch: OwnRow[] = [];
  let bytes = 0;
  for (const row of own) {
    if (row.state !== 'waiting') continue;
    bytes += JSON.stringify(row.fact).length;
    if (batch.length > 0 && (batch.length >= most || bytes > MOST_BYTES)) break;
    batch.push(row);
  }
  return batch;
}

/** When all records of the visit are with the server; what stands in the way of a report holds up nothing else. */
async function askReports(notebook: Notebook, line: Transport): Promise<void> {
  const waiting = new Set(
    notebook.own.map(({ fact, state }) => (state === 'waiting' ? fact.property : null)),
  );
  for (const report of notebook.reports) {
    if (report.refusal !== null || waiting.has(report.property)) continue;
    const reply = await line.askReport(report.property, report.visit);
    if (reply.ok) await notebook.dropReport(report.visit);
    else if (reply.unfit !== undefined) await notebook.refuseReport(report, reply.unfit);
    else if (notebook.deps.now() - Date.parse(report.askedAt) > REPORT_WAITS_MS)
      await notebook.dropReport(report.visit);
    else return;
  }
}

async function fetchFacts(notebook: Notebook, line: Transport): Promise<void> {
  const today = notebook.deps.timeText(notebook.deps.now()).slice(0, 10);
  const rounds = notebook.rounds();
  if (wantedProperties(today, rounds, []).size === 0) await askDue(notebook, line);
  const wanted = wantedProperties(today, rounds, notebook.firm.dueAt);
  await notebook.keepOnly(wanted);
  // Those with own facts come too: what was recorded there has to come home.
  const own = notebook.own.flatMap(({ fact, state }) =>
    fact.property === null || state === 'set aside' ? [] : [fact.property],
  );
  let asked = askedOf(
    notebook,
    new Set([...wanted, ...own, ...notebook.marks.map(({ property }) => property)]),
  );
  while (asked.length > 0) {
    const got = orStop(await line.pullFacts(asked.slice(0, MOST_PROPERTIES)));
    const rest = asked.slice(MOST_PROPERTIES);
    await notebook.applyFacts(got);
    for (const { property, upTo, more } of got) if (more) rest.push({ property, afterSeq: upTo });
    asked = rest;
  }
  await notebook.keepOnly(wanted);
}

function askedOf(notebook: Notebook, properties: ReadonlySet<string>): readonly AskedProperty[] {
  const marks = new Map(notebook.marks.map(({ property, upTo }) => [property, upTo]));
  return [...properties].map((property) => ({ property, afterSeq: marks.get(property) ?? 0 }));
}

async function askDue(notebook: Notebook, line: Transport): Promise<void> {
  const { dueAskedAt } = notebook.firm;
  if (dueAskedAt !== null && notebook.deps.now() - Date.parse(dueAskedAt) < DUE_EVERY_MS) return;
  await notebook.applyDue(orStop(await line.listDue(notebook.who.me.branch)));
}

/** Fetches one property that is not among the coming work. */
export async function takeAlong(
  notebook: Notebook,
  line: Transport,
  property: string,
  until: string,
): Promise<SyncProblem | null> {
  let afterSeq = askedOf(notebook, new Set([property]))[0]?.afterSeq ?? 0;
  for (;;) {
    const reply = await line.pullFacts([{ property, afterSeq }]);
    if (!reply.ok) return reply.problem;
    const [got] = reply.value;
    if (got === undefined) return 'server trouble';
    afterSeq = got.upTo;
    await notebook.applyFacts([{ ...got, takenUntil: until }]);
    if (!got.more) return null;
  }
}
