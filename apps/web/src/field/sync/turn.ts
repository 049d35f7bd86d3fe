import type { Book } from '../store/book.ts';
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
const DUE_EVERY_MS = 30 * 60_000;

/**
 * One whole turn: who am I, send in order, fetch. Every step is safe to be cut at any point and done again: the server
 * knows a fact by its id, and a fact leaves this phone's queue only in the transaction that stores its receipt.
 */
export async function syncTurn(
  book: Book,
  line: Transport,
  looked: Map<string, number> = new Map(),
): Promise<TurnResult> {
  if (book.who.standing === 'former') return { problem: 'no longer of the firm' };
  try {
    await hello(book, line);
    await sendFacts(book, line);
    await sendPhotos(book, line);
    await fetchFacts(book, line);
    await book.noteFetched();
    await fetchThumbnails(book, line, looked);
    return { problem: null };
  } catch (error) {
    if (error instanceof Stop) return error.result;
    throw error;
  }
}

/** Nothing is sent before it is known that the session is this person's: the server would refuse each fact for good. */
async function hello(book: Book, line: Transport): Promise<void> {
  for (;;) {
    const askedAt = book.deps.now();
    const reply = await line.pull(book.firm.upTo);
    if (!reply.ok && reply.problem === 'sign in again') await askStanding(book, line);
    const said = orStop(reply);
    if (!isSamePerson(book, said)) throw new Stop({ problem: 'other person signed in' });
    await book.applyFirm({
      me: said.me,
      facts: said.facts,
      upTo: said.upTo,
      names: said.names.map(({ id, name }) => [id, name] as const),
      // The server wrote its time somewhere between question and answer.
      clockOffMs: (askedAt + book.deps.now()) / 2 - Date.parse(said.now),
    });
    if (said.me.mustChangePassword) throw new Stop({ problem: 'password must be changed' });
    if (!said.more) return;
  }
}

function isSamePerson(book: Book, { me }: PullAnswer): boolean {
  const own = book.who.me;
  return me.id === own.id && me.firm.id === own.firm.id;
}

/** A session that ran out is no end; only the server's own word that the person has left is. */
async function askStanding(book: Book, line: Transport): Promise<void> {
  const { id, firm } = book.who.me;
  const reply = await line.standing(firm.id, id);
  if (!reply.ok || reply.value !== 'former') return;
  await book.endMembership();
  throw new Stop({ problem: 'no longer of the firm' });
}

async function sendFacts(book: Book, line: Transport): Promise<void> {
  let most = MOST_FACTS;
  for (;;) {
    const batch = nextBatch(book.own, most);
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
        await book.applyVerdicts(batch, [
          { id: row.fact.id, verdict: 'refused', code: 'malformed', detail: reply.unfit },
        ]);
      most = MOST_FACTS;
      continue;
    }
    const verdicts = orStop(reply);
    if (verdicts.some((one) => one.verdict === 'refused' && one.code === 'not allowed')) {
      // Somebody else may have signed in between the greeting and this; then these verdicts are not about us.
      if (!isSamePerson(book, orStop(await line.pull(book.firm.upTo))))
        throw new Stop({ problem: 'other person signed in' });
    }
    const known = new Set(verdicts.map(({ id }) => id));
    // A verdict for each, or the queue would turn on the spot.
    if (!batch.every(({ fact }) => known.has(fact.id))) throw new Stop({ problem: 'server trouble' });
    await book.applyVerdicts(batch, verdicts);
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

async function fetchFacts(book: Book, line: Transport): Promise<void> {
  const today = book.deps.timeText(book.deps.now()).slice(0, 10);
  const rounds = book.rounds();
  if (wantedProperties(today, rounds, []).size === 0) await askDue(book, line);
  const wanted = wantedProperties(today, rounds, book.firm.dueAt);
  await book.keepOnly(wanted);
  // Those with own facts come too: what was recorded there has to come home.
  const own = book.own.flatMap(({ fact, state }) =>
    fact.property === null || state === 'set aside' ? [] : [fact.property],
  );
  let asked = askedOf(book, new Set([...wanted, ...own, ...book.marks.map(({ property }) => property)]));
  while (asked.length > 0) {
    const got = orStop(await line.pullFacts(asked.slice(0, MOST_PROPERTIES)));
    const rest = asked.slice(MOST_PROPERTIES);
    await book.applyFacts(got);
    for (const { property, upTo, more } of got) if (more) rest.push({ property, afterSeq: upTo });
    asked = rest;
  }
  await book.keepOnly(wanted);
}

function askedOf(book: Book, properties: ReadonlySet<string>): readonly AskedProperty[] {
  const marks = new Map(book.marks.map(({ property, upTo }) => [property, upTo]));
  return [...properties].map((property) => ({ property, afterSeq: marks.get(property) ?? 0 }));
}

async function askDue(book: Book, line: Transport): Promise<void> {
  const { dueAskedAt } = book.firm;
  if (dueAskedAt !== null && book.deps.now() - Date.parse(dueAskedAt) < DUE_EVERY_MS) return;
  await book.applyDue(orStop(await line.listDue(book.who.me.branch)));
}

/** Fetches one property that is not among the coming work. */
export async function takeAlong(
  book: Book,
  line: Transport,
  property: string,
  until: string,
): Promise<SyncProblem | null> {
  let afterSeq = askedOf(book, new Set([property]))[0]?.afterSeq ?? 0;
  for (;;) {
    const reply = await line.pullFacts([{ property, afterSeq }]);
    if (!reply.ok) return reply.problem;
    const [got] = reply.value;
    if (got === undefined) return 'server trouble';
    afterSeq = got.upTo;
    await book.applyFacts([{ ...got, takenUntil: until }]);
    if (!got.more) return null;
  }
}
