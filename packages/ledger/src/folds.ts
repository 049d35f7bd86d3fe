import {
  CORRECTION,
  checkFact,
  type FactProblem,
  FIRM_KINDS,
  foldFirm,
  foldProperty,
} from '@sillwatch/trade';
import type { FactCheck, Folds } from './port.ts';

/** The trade room's meaning of facts, as the ledger asks for it. */
export const TRADE_FOLDS: Folds = {
  version: 4,
  firmKinds: [...FIRM_KINDS, CORRECTION],
  foldProperty,
  foldFirm,
  checkFact: judgeFact,
};

const MOST_PROBLEMS = 5;

/** One answer for all that is wrong with a fact, each with its place and remedy. */
function judgeFact(value: unknown): FactCheck {
  return judgeProblems(checkFact(value));
}

/** As a verdict says it: each problem with its place and remedy. */
export function judgeProblems(problems: readonly FactProblem[]): FactCheck {
  if (problems.length === 0) return { ok: true };
  return {
    ok: false,
    code: problems.some(({ code }) => code === 'malformed') ? 'malformed' : 'legal field missing',
    detail: problems
      .slice(0, MOST_PROBLEMS)
      .map(({ path, detail, remedy }) => `${path === '' ? 'the fact' : path} ${detail}; ${remedy}`)
      .join('; '),
  };
}
