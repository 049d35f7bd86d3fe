export { checkProblem, type FaultCode, type ProblemFault } from './check.ts';
export {
  assignmentOf,
  type CostParts,
  evaluatePlan,
  evaluateRoute,
  type PlanEvaluation,
  type RouteEvaluation,
  type StopEvaluation,
  type TimeParts,
  type Violation,
  type ViolationCode,
} from './evaluate.ts';
export { evaluateMove, type Move, type MoveEvaluation } from './move.ts';
export type {
  AssignedRoute,
  Assignment,
  Break,
  DayCost,
  Group,
  Job,
  Plan,
  Problem,
  Route,
  Shift,
  Stop,
  TakenBreak,
  TimeWindow,
  Travel,
  TravelFunction,
  TravelMatrix,
  Unassigned,
  UnassignedReason,
  Vehicle,
} from './problem.ts';
export { createSolver, type Solver, type SolverOptions, solve } from './solver.ts';
