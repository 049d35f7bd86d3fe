/**
 * What one thing is worth against another, all in seconds of a technician's time, so that a lead can argue about them.
 * Source of the defaults: our own judgement, no source; docs/rules/planning.md says what each does.
 */
export interface PlanWeights {
  /** Driving out at all on a day. */
  readonly roundSeconds: number;
  /** Beside the time itself, for each kilometre driven. */
  readonly kilometreSeconds: number;
  /** For each second from the start of the hours until the round is back, so that waiting is not free; 0 or 1. */
  readonly awaySecondCost: number;
  /** For each second beyond the regular hours. */
  readonly overtimeSecondCost: number;
  /** For each day before and after the day that the due work aims at, while the window is kept. */
  readonly earlyDaySeconds: number;
  readonly pastTargetDaySeconds: number;
  /** For the first day after a window has closed, and for every day from there on: more than any drive saves. */
  readonly lateSeconds: number;
  readonly lateDaySeconds: number;
  /** Another technician than last time. */
  readonly otherPersonSeconds: number;
  /** Another day, or another technician, than was published; half as much for each day farther away. */
  readonly movedDaySeconds: number;
  readonly movedPersonSeconds: number;
  /** An urgent request, for each day that it waits. */
  readonly urgentDaySeconds: number;
  /** A frozen visit begins within so many minutes of the time that was published. */
  readonly frozenSlackMinutes: number;
}

export const PLAN_WEIGHTS: PlanWeights = {
  roundSeconds: 1800,
  kilometreSeconds: 0,
  awaySecondCost: 1,
  overtimeSecondCost: 2,
  earlyDaySeconds: 30,
  pastTargetDaySeconds: 60,
  lateSeconds: 86_400,
  lateDaySeconds: 3600,
  otherPersonSeconds: 600,
  movedDaySeconds: 3600,
  movedPersonSeconds: 1800,
  urgentDaySeconds: 7200,
  frozenSlackMinutes: 30,
};
