import type { Point } from '../site/model.ts';
import { azimuthOf, stepAt } from './direction.ts';
import type { WallRun } from './parseRuns.ts';

/** How far the last run ends from the start, and the same in the surveyor's terms. */
export interface Closure {
  /** Sum of departures: how far east of the start the runs end. */
  readonly eastMetres: number;
  /** Sum of latitudes: how far north of the start they end. */
  readonly northMetres: number;
  readonly lengthMetres: number;
  /** From the start to where the runs end; 0 when they meet. */
  readonly azimuthDegrees: number;
  readonly perimeterMetres: number;
  /** The N of "1 in N"; null when the runs meet. */
  readonly oneIn: number | null;
}

export interface AdjustedRun {
  readonly text: string;
  /** departure and latitude as measured */
  readonly eastMetres: number;
  readonly northMetres: number;
  /** what the rule adds */
  readonly eastCorrectionMetres: number;
  readonly northCorrectionMetres: number;
  readonly lengthMetres: number;
  readonly azimuthDegrees: number;
}

export interface Traverse {
  readonly closure: Closure;
  readonly runs: readonly AdjustedRun[];
  /** Corners as measured, one more than there are runs: the last shows the gap. */
  readonly measured: readonly Point[];
  /** Corners after the closure was spread, as many as runs; the last run comes back to the first corner. */
  readonly adjusted: readonly Point[];
}

/**
 * Spreads the closure error over the runs in proportion to their lengths: the compass rule, N. Bowditch 1808.
 * Start at `start` (default the origin).
 */
export function adjustTraverse(runs: readonly WallRun[], start: Point = { x: 0, y: 0 }): Traverse {
  const steps = runs.map((run) => {
    const { east, north } = stepAt(run.azimuthDegrees);
    return { run, east: east * run.lengthMetres, north: north * run.lengthMetres };
  });
  const perimeterMetres = runs.reduce((sum, run) => sum + run.lengthMetres, 0);
  const eastMetres = tidy(
    steps.reduce((sum, step) => sum + step.east, 0),
    perimeterMetres,
  );
  const northMetres = tidy(
    steps.reduce((sum, step) => sum + step.north, 0),
    perimeterMetres,
  );
  const lengthMetres = Math.hypot(eastMetres, northMetres);

  const measured: Point[] = [start];
  const adjusted: Point[] = [];
  const corrected: AdjustedRun[] = [];
  let rough = start;
  let exact = start;
  for (const { run, east, north } of steps) {
    adjusted.push(exact);
    const share = run.lengthMetres / perimeterMetres;
    const eastCorrectionMetres = -eastMetres * share;
    const northCorrectionMetres = -northMetres * share;
    const newEast = east + eastCorrectionMetres;
    const newNorth = north + northCorrectionMetres;
    corrected.push({
      text: run.text,
      eastMetres: east,
      northMetres: north,
      eastCorrectionMetres,
      northCorrectionMetres,
      lengthMetres: Math.hypot(newEast, newNorth),
      azimuthDegrees: azimuthOf(newEast, newNorth),
    });
    rough = { x: rough.x + east, y: rough.y + north };
    exact = { x: exact.x + newEast, y: exact.y + newNorth };
    measured.push(rough);
  }
  return {
    closure: {
      eastMetres,
      northMetres,
      lengthMetres,
      azimuthDegrees: azimuthOf(eastMetres, northMetres),
      perimeterMetres,
      oneIn: lengthMetres === 0 ? null : perimeterMetres / lengthMetres,
    },
    runs: corrected,
    measured,
    adjusted,
  };
}

/** The dust of adding doubles is no error of the tape. */
function tidy(sum: number, perimeterMetres: number): number {
  return Math.abs(sum) <= perimeterMetres * 1e-12 ? 0 : sum;
}
