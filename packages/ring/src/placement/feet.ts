import type { Point } from '../site/model.ts';
import { fractionsThrough, pointOn, type Strip, stripOf } from './band.ts';
import { ARC_TURN, type ClosedPath } from './stationLine.ts';

/** A position on a line that lies square before a point: the probe there passes through the point. */
export interface Foot {
  readonly alongMetres: number;
  /** From the line to the point, square to its edge, away from the wall counted positive. */
  readonly shiftMetres: number;
}

/** A probe that misses by less than this along the line still meets the point, metres. */
const SAME_METRES = 1e-6;
/** Along arcs probes lean: past the end of its edge one gets this many metres for each metre off the line, at most. */
const LEAN = Math.tan(ARC_TURN / 2);

/**
 * All positions on a line whose probe passes through a point, at most `reachMetres` off the line: `pointAt` the other
 * way round. None in an inner corner of the line, which no probe sweeps. Metres.
 */
export function listFeet(line: ClosedPath, p: Point, reachMetres: number): readonly Foot[] {
  const { points, along } = line;
  const feet: Foot[] = [];
  for (let edge = 0; edge < points.length; edge++) {
    const a = points[edge];
    const b = points[edge + 1] ?? points[0];
    const from = along[edge] ?? 0;
    const length = (along[edge + 1] ?? from) - from;
    if (a === undefined || b === undefined || length === 0) continue;
    // Most edges are far away: square to this one first, before its strip is drawn.
    const beside = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
    const off = Math.abs((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / length;
    const past = Math.max(-beside, beside - length);
    if (off > reachMetres || past > LEAN * off + SAME_METRES) continue;
    const strip = stripOf(line, edge, reachMetres);
    for (const found of fractionsThrough(strip, p)) {
      const fraction = Math.min(1, Math.max(0, found));
      // Two coinciding roots can come out as no number at all.
      if (!(Math.abs(fraction - found) * length < SAME_METRES)) continue;
      const shiftMetres = shiftTo(strip, fraction, p);
      if (Math.abs(shiftMetres) > reachMetres) continue;
      feet.push({ alongMetres: from + fraction * length, shiftMetres });
    }
  }
  return feet;
}

function shiftTo({ near, far, halfMetres }: Strip, fraction: number, p: Point): number {
  const from = pointOn(near, fraction);
  const to = pointOn(far, fraction);
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const share = ((p.x - from.x) * dx + (p.y - from.y) * dy) / (dx * dx + dy * dy);
  return (2 * share - 1) * halfMetres;
}
