export { checkProblem, type FaultCode, type ProblemFault } from './check.ts';
export type {
  DayCost,
  Job,
  Plan,
  Problem,
  Route,
  Shift,
  Stop,
  TimeWindow,
  Travel,
  TravelFunction,
  TravelMatrix,
  Unassigned,
  UnassignedReason,
  Vehicle,
} from './problem.ts';
export { createSolver, type Solver, type SolverOptions, solve } from './solver.ts';
