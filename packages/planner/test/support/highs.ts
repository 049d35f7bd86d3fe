import { createRequire } from 'node:module';

/** The little of HiGHS (npm `highs`, WebAssembly) that the proofs use. Its typings describe a module that Node does not load as such. */
export interface ExactSolver {
  /** `problem` in CPLEX LP form. */
  solve(problem: string): { readonly Status: string; readonly ObjectiveValue: number };
}

/** Loads the solver; throws when it is not what it is expected to be. */
export async function loadHighs(): Promise<ExactSolver> {
  const loader: unknown = createRequire(import.meta.url)('highs');
  if (typeof loader !== 'function') throw new Error('the npm package highs exports no loader');
  return loader();
}
