import { eachFactPage } from '@sillwatch/ledger';
import { groupByProperty, readSubjects } from '@sillwatch/rounds';
import type { AnyFact, FirmState } from '@sillwatch/trade';
import type { Context } from './context.ts';
import { createProgress } from './io.ts';

/** The firm's facts, page by page, as figures read them. */
export async function readFirmFacts(context: Context): Promise<{
  readonly facts: readonly AnyFact[];
  readonly firm: FirmState;
  readonly subjects: ReturnType<typeof readSubjects>['subjects'];
  readonly withoutProfile: readonly string[];
}> {
  const firm = await context.ledger.getFirm(context.firm);
  const { seq } = await context.ledger.findHead(context.firm);
  const progress = createProgress(context.io, 'entries');
  const facts: AnyFact[] = [];
  for await (const page of eachFactPage(context.ledger, context.firm)) {
    facts.push(...page);
    progress.step(page.at(-1)?.receipt?.seq ?? seq, seq);
  }
  progress.end();
  return { facts, firm, ...readSubjects(groupByProperty(facts), firm.profiles) };
}
