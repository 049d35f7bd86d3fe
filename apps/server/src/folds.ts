import type { FactCheck, Folds } from '@sillwatch/ledger';
import { checkFact, foldFirm, foldProperty } from '@sillwatch/trade';

/** What the ledger takes from the trade room, put together in the one place that may know both. */
export const FOLDS: Folds = { foldProperty, foldFirm, checkFact: judgeFact };

const MOST_PROBLEMS = 5;

/** One verdict of all that is wrong with a fact, each with its place and remedy. */
function judgeFact(value: unknown): FactCheck {
  const problems = checkFact(value);
  if (problems.length === 0) return { ok: true };
  const isMalformed = problems.some(({ code }) => code === 'malformed');
  return {
    ok: false,
    code: isMalformed ? 'malformed' : 'legal field missing',
    detail: problems
      .slice(0, MOST_PROBLEMS)
      .map(({ path, detail, remedy }) => `${path === '' ? 'fact' : path} ${detail}; ${remedy}`)
      .join('; '),
  };
}
