/**
 * The question put to the planner: which vehicle goes where, on which day, in which order. Nothing here knows what a job is.
 * Every number is a whole number; times of day are seconds after midnight; costs are in one unit of the caller's choice.
 */
export interface Problem {
  /** Days are numbered 0 to `days` - 1. */
  readonly days: number;
  readonly travel: Travel;
  readonly jobs: readonly Job[];
  readonly vehicles: readonly Vehicle[];
  /** Visits that hang together; a job is in one group at most. */
  readonly groups?: readonly Group[];
}

/** Several visits, such as those of one property over the weeks: all are planned or none (but for frozen ones), by one of the patterns. */
export interface Group {
  readonly name: string;
  readonly jobs: readonly number[];
  /** Each gives every job of the list, in its order, a day of its own. */
  readonly patterns: readonly (readonly number[])[];
}

/**
 * Places are numbered from 0. Travel need not be the same both ways. Where seconds by a third place are fewer than the direct ones, plans
 * stay true, but some that are in time only as a whole are out of reach of the search.
 */
export type Travel = TravelMatrix | TravelFunction;

export interface TravelMatrix {
  readonly kind: 'matrix';
  readonly places: number;
  /** Row by row: `seconds[from * places + to]`. */
  readonly seconds: Int32Array;
  /** The same shape; the seconds are the cost when absent. */
  readonly cost?: Int32Array;
}

/** For thousands of places, where a full matrix would not fit: answers a pair at a time, from the same input the same output. */
export interface TravelFunction {
  readonly kind: 'function';
  readonly places: number;
  readonly seconds: (from: number, to: number) => number;
  readonly cost?: (from: number, to: number) => number;
  /** No leg takes more seconds or costs more; the worst total is reckoned from it. */
  readonly most: number;
  /** Flat coordinates, only to find which places are near each other: one unit must mean the same distance along both. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export interface Job {
  /** Only used to name the job in a refusal or a reason. */
  readonly name: string;
  readonly place: number;
  readonly serviceSeconds: number;
  /** The days on which it may be done, each with its cost (0 for the best ones, more for early or late). */
  readonly days: readonly DayCost[];
  /** Service starts inside one of these, ascending and apart; empty means at any time. Both ends inclusive. */
  readonly windows: readonly TimeWindow[];
  /** Bit mask: the vehicle must have all of these bits. */
  readonly skills: number;
  /** What it takes from a vehicle's capacity, 0 when that does not matter. */
  readonly load: number;
  /** Cost of leaving it out. Absent: it must be done, and is left out only when there is no room at all. */
  readonly penalty?: number;
  /** The vehicle that did it last time, and what it costs to send another. */
  readonly preferred?: { readonly vehicle: number; readonly otherwise: number };
  /** Promised: only this vehicle, only this day, service begins exactly then, or some of these. The order on the route stays free. */
  readonly fixed?: { readonly vehicle?: number; readonly day?: number; readonly startSeconds?: number };
}

export interface DayCost {
  readonly day: number;
  readonly cost: number;
  /** On this day instead of the job's own windows; empty means at any time. */
  readonly windows?: readonly TimeWindow[];
}

export interface TimeWindow {
  readonly open: number;
  readonly close: number;
}

export interface Vehicle {
  readonly name: string;
  readonly skills: number;
  /** Largest total load on one day. */
  readonly capacity: number;
  readonly shifts: readonly Shift[];
}

/** One day of one vehicle: the room for one route. */
export interface Shift {
  readonly day: number;
  readonly startPlace: number;
  readonly endPlace: number;
  /** Leaves `startPlace` no earlier; without `longestSeconds`, exactly then. */
  readonly startSeconds: number;
  /** Back at `endPlace` by then costs no overtime. */
  readonly regularEndSeconds: number;
  /** Back at `endPlace` no later. */
  readonly latestEndSeconds: number;
  /**
   * The most time between leaving and coming back: the route may then leave later than `startSeconds`. A break before leaving is not part
   * of it. Hours are paid from `startSeconds` either way.
   */
  readonly longestSeconds?: number;
  /** Cost of driving out at all. */
  readonly useCost: number;
  /** Cost of each second from `startSeconds` until the route is back. */
  readonly secondCost: number;
  /** Added cost of each second after `regularEndSeconds`. */
  readonly overtimeSecondCost: number;
  /** Jobs (indices) that begin this route in this order and are not touched. */
  readonly frozen?: readonly number[];
  readonly break?: Break;
}

/**
 * Begins within its window, at a stop or before driving out, never during service or a drive. A route that is back by
 * `latestSeconds` needs none.
 */
export interface Break {
  readonly earliestSeconds: number;
  readonly latestSeconds: number;
  readonly seconds: number;
  /** Unpaid: its seconds do not count for `secondCost`. Overtime goes by the clock either way. */
  readonly paid: boolean;
}

export interface Plan {
  readonly routes: readonly Route[];
  readonly unassigned: readonly Unassigned[];
  /** Travel, use, hours, days, other vehicle than preferred, penalties of optional jobs left out. */
  readonly cost: number;
  readonly travelCost: number;
  /** Jobs left out although they must be done. */
  readonly missed: number;
}

/** Only routes with jobs are listed, by vehicle and then by day. */
export interface Route {
  readonly vehicle: number;
  readonly day: number;
  readonly stops: readonly Stop[];
  /** Only where the shift has `longestSeconds`: as late as brings it back by `endSeconds`. */
  readonly leaveSeconds?: number;
  readonly endSeconds: number;
  readonly break?: TakenBreak;
}

export interface TakenBreak {
  readonly startSeconds: number;
  /** Where it is taken. */
  readonly place: number;
}

export interface Stop {
  readonly job: number;
  readonly arriveSeconds: number;
  /** Service starts; later than arrival when the window is not yet open. */
  readonly startSeconds: number;
}

export interface Unassigned {
  readonly job: number;
  readonly reason: UnassignedReason;
}

/**
 * Why a job is not in the plan: no vehicle works on its days; none that does has the skills, is the promised one, or carries the load;
 * its window cannot be met even by an empty route; all routes are full; leaving it out costs less than doing it.
 */
export type UnassignedReason =
  | 'noShiftOnItsDays'
  | 'noVehicleWithSkills'
  | 'promisedVehicleOff'
  | 'tooMuchLoad'
  | 'outOfReach'
  | 'noRoom'
  | 'notWorthIt';

/** Who does which jobs in which order, without times: what a search starts from, and what a person drags about. */
export type Assignment = readonly AssignedRoute[];

export interface AssignedRoute {
  readonly vehicle: number;
  readonly day: number;
  readonly jobs: readonly number[];
}
