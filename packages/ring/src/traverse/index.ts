export { type AdjustedRun, adjustTraverse, type Closure, type Traverse } from './adjust.ts';
export { azimuthOf, stepAt } from './direction.ts';
export { describeClosure, type OutlineResult, outlineFromRuns, WORST_ONE_IN } from './outlineFromRuns.ts';
export {
  LONGEST_RUN_METRES,
  parseRuns,
  type RunsResult,
  type TraverseFault,
  type TraverseRefusal,
  type WallRun,
} from './parseRuns.ts';
