import type { AnyFact } from '@sillwatch/trade';
import type { FactQuery, Ledger } from '../port.ts';
import { breathe } from './breathe.ts';

const FACTS_A_PAGE = 10_000;

/**
 * The facts that a query asks for, in ledger order, page by page (none of them empty), however many there are. Others get
 * their turn between two pages. Facts appended meanwhile are read too.
 */
export async function* eachFactPage(
  ledger: Pick<Ledger, 'listFacts'>,
  firm: string,
  query: Omit<FactQuery, 'limit'> = {},
): AsyncGenerator<readonly AnyFact[]> {
  let afterSeq = query.afterSeq ?? 0;
  for (;;) {
    const page = await ledger.listFacts(firm, { ...query, afterSeq, limit: FACTS_A_PAGE });
    const last = page.at(-1)?.receipt?.seq;
    if (last === undefined) return;
    yield page;
    if (page.length < FACTS_A_PAGE) return;
    afterSeq = last;
    await breathe();
  }
}

/** All the facts that a query asks for: what is made of them is complete or it is nothing. */
export async function listEveryFact(
  ledger: Pick<Ledger, 'listFacts'>,
  firm: string,
  query: Omit<FactQuery, 'limit'> = {},
): Promise<readonly AnyFact[]> {
  const facts: AnyFact[] = [];
  for await (const page of eachFactPage(ledger, firm, query)) facts.push(...page);
  return facts;
}
