import { formatLength, type LengthUnit } from '../length/index.ts';
import type { Point } from '../site/model.ts';
import { adjustTraverse, type Closure, type Traverse } from './adjust.ts';
import { azimuthOf } from './direction.ts';
import { parseRuns, type TraverseRefusal, type WallRun } from './parseRuns.ts';

export type OutlineResult =
  | { readonly ok: true; readonly traverse: Traverse }
  | { readonly ok: false; readonly refusal: TraverseRefusal; readonly traverse: Traverse | null };

/**
 * The largest closure that is taken for tape error: 1 part in 20 of the perimeter. Common practice, no source:
 * a tape and a hand compass do far better, and a wall left out or turned the wrong way does far worse.
 */
export const WORST_ONE_IN = 20;

/**
 * The closed outline that wall runs describe, its closure error spread by the compass rule.
 * Refused where a run cannot be read, where the runs do not nearly meet, or where the walls cross.
 */
export function outlineFromRuns(text: string, bareUnit?: LengthUnit): OutlineResult {
  const parsed = parseRuns(text, bareUnit);
  if (!parsed.ok) return { ok: false, refusal: parsed.refusal, traverse: null };
  const { runs } = parsed;
  if (runs.length < 3)
    return {
      ok: false,
      refusal: {
        fault: 'too few runs',
        run: null,
        message: `An outline has at least 3 walls; there are ${runs.length}. Walk on until you are back at the first corner.`,
        at: null,
      },
      traverse: null,
    };
  const traverse = adjustTraverse(runs);
  const { closure } = traverse;
  if (closure.oneIn !== null && closure.oneIn < WORST_ONE_IN) {
    const at = traverse.measured.at(-1) ?? null;
    const message = `${describeClosure(closure, bareUnit ?? 'm')} That is more than a tape is off. ${guessCause(runs, closure, bareUnit ?? 'm')}`;
    return { ok: false, refusal: { fault: 'does not close', run: null, message, at }, traverse };
  }
  const crossing = findCrossing(traverse.adjusted);
  if (crossing !== undefined) {
    const message = `Run ${crossing.first + 1} and run ${crossing.second + 1} cross: check their directions and lengths.`;
    return {
      ok: false,
      refusal: { fault: 'crosses itself', run: crossing.second + 1, message, at: crossing.at },
      traverse,
    };
  }
  return { ok: true, traverse };
}

/** "The runs end 0.21 m short of the start, to the north-east (1 in 180)." */
export function describeClosure(closure: Closure, unit: LengthUnit): string {
  if (closure.oneIn === null) return 'The runs meet at the start.';
  const gap = write(closure.lengthMetres, unit);
  return `The runs end ${gap} ${compassWord(closure.azimuthDegrees)} of the start (1 in ${Math.floor(closure.oneIn)}).`;
}

const COMPASS_WORDS = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
];

function compassWord(azimuthDegrees: number): string {
  return COMPASS_WORDS[Math.round(azimuthDegrees / 45) % 8] ?? 'north';
}

function write(lengthMetres: number, unit: LengthUnit): string {
  return formatLength(lengthMetres, { style: unit === 'ft' ? 'feet and inches' : 'metres' });
}

/** A run that goes the wrong way leaves twice its length as gap, along its own line; else a wall may be missing. */
function guessCause(runs: readonly WallRun[], closure: Closure, unit: LengthUnit): string {
  const tolerance = closure.perimeterMetres / WORST_ONE_IN / 2;
  for (const [index, run] of runs.entries()) {
    const radians = (run.azimuthDegrees * Math.PI) / 180;
    const east = closure.eastMetres - 2 * Math.sin(radians) * run.lengthMetres;
    const north = closure.northMetres - 2 * Math.cos(radians) * run.lengthMetres;
    if (Math.hypot(east, north) <= tolerance)
      return `Does run ${index + 1}, ${JSON.stringify(run.text)}, go the other way?`;
  }
  const back = azimuthOf(-closure.eastMetres, -closure.northMetres);
  return `Is a wall of about ${write(closure.lengthMetres, unit)} to the ${compassWord(back)} missing, or one too short by that much?`;
}

/** The first two walls, not neighbours, that meet; outlines have tens of walls, so every pair is looked at. */
function findCrossing(
  corners: readonly Point[],
): { readonly first: number; readonly second: number; readonly at: Point } | undefined {
  const count = corners.length;
  for (let first = 0; first < count; first += 1) {
    for (let second = first + 2; second < count; second += 1) {
      if (first === 0 && second === count - 1) continue;
      const a = corners[first];
      const b = corners[first + 1];
      const c = corners[second];
      const d = corners[(second + 1) % count];
      if (a === undefined || b === undefined || c === undefined || d === undefined) continue;
      const at = meet(a, b, c, d);
      if (at !== undefined) return { first, second, at };
    }
  }
  return undefined;
}

function meet(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  const denominator = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
  if (denominator === 0) return undefined;
  const along = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / denominator;
  const across = ((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / denominator;
  if (along < 0 || along > 1 || across < 0 || across > 1) return undefined;
  return { x: a.x + along * (b.x - a.x), y: a.y + along * (b.y - a.y) };
}
