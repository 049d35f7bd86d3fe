import { eachFactPage, type Ledger } from '@sillwatch/ledger';
import { listSentRounds, type SentRound } from '@sillwatch/rounds';
import {
  type AnyFact,
  CORRECTION,
  correctedId,
  foldRounds,
  ROUND_KINDS,
  type RoundBody,
} from '@sillwatch/trade';

/** A firm's rounds as last sent out, those of the last weeks and to come. */
export interface RoundShelf {
  list(firm: string): Promise<readonly RoundBody[]>;
  /** The same with when and by whom they were sent out, and what the last sending changed; emptied ones too. */
  listSent(firm: string): Promise<readonly SentRound[]>;
  /** `YYYY-MM-DD`: rounds of days before are not kept ready. */
  firstDay(): string;
}

const KINDS: readonly string[] = [...ROUND_KINDS, CORRECTION];
const MOST_FIRMS = 50;
const KEPT_DAYS = 60;
const DAY_MS = 86_400_000;

/**
 * Keeps the published rounds of each firm in step with its ledger: the first question reads them all, later ones only what
 * was appended since. Corrections are kept when they name a round that is.
 */
export function createRoundShelf(ledger: Pick<Ledger, 'listFacts'>, now: () => number): RoundShelf {
  const shelf = new Map<string, { facts: Map<string, AnyFact>; seq: number; busy: Promise<void> }>();
  const read = async (firm: string): Promise<Iterable<AnyFact>> => {
    const kept = shelf.get(firm) ?? { facts: new Map(), seq: 0, busy: Promise.resolve() };
    shelf.delete(firm);
    shelf.set(firm, kept);
    const oldest = shelf.keys().next();
    if (shelf.size > MOST_FIRMS && oldest.done !== true) shelf.delete(oldest.value);
    // One after the other, so that no page is read twice over.
    kept.busy = kept.busy.catch(() => {}).then(() => catchUp(ledger, firm, kept, firstDay(now())));
    await kept.busy;
    return kept.facts.values();
  };
  return {
    firstDay: () => firstDay(now()),
    list: async (firm) => foldRounds(await read(firm)),
    listSent: async (firm) => listSentRounds(await read(firm)),
  };
}

function firstDay(nowMs: number): string {
  return new Date(nowMs - KEPT_DAYS * DAY_MS).toISOString().slice(0, 10);
}

async function catchUp(
  ledger: Pick<Ledger, 'listFacts'>,
  firm: string,
  kept: { readonly facts: Map<string, AnyFact>; seq: number },
  first: string,
): Promise<void> {
  for await (const page of eachFactPage(ledger, firm, { kinds: KINDS, afterSeq: kept.seq })) {
    for (const fact of page) {
      kept.seq = fact.receipt?.seq ?? kept.seq;
      if (isWanted(fact, kept.facts, first)) kept.facts.set(fact.id, fact);
    }
  }
}

function isWanted(fact: AnyFact, known: ReadonlyMap<string, AnyFact>, first: string): boolean {
  const { kind, body } = fact;
  if (kind === CORRECTION) return known.has(correctedId(fact) ?? '');
  if (typeof body !== 'object' || body === null) return false;
  return 'day' in body && typeof body.day === 'string' && body.day >= first;
}
