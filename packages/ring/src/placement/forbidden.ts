import type { KeepOut, Point, Site } from '../site/model.ts';
import { isInside } from '../site/plane.ts';
import type { Interval } from './intervals.ts';
import type { BlockedBy, Remedy, RingRules } from './model.ts';
import { grown, strip } from './stationLine.ts';

/** Chords round a well or a drain: they stray less than 0.2 % of the clearance, and outwards. */
const CIRCLE_SIDES = 48;

/** Ground that takes no station. */
export interface Forbidden {
  readonly why: BlockedBy;
  readonly remedy: Remedy;
  /** Even-odd: holes lie outside. */
  readonly rings: readonly (readonly Point[])[];
  readonly box: {
    readonly west: number;
    readonly south: number;
    readonly east: number;
    readonly north: number;
  };
}

/** All ground of a site that takes no station, each with the reason and what would mend it. */
export function listForbidden(site: Site, rules: RingRules): readonly Forbidden[] {
  const hard = site.hardSurfaces.map(({ id, kind, outline }) =>
    forbidden(
      { kind: 'hard_surface', id },
      kind === 'pool' ? { kind: 'other_side', id } : { kind: 'drill_hard_surface', id },
      [outline],
    ),
  );
  return [...hard, ...site.keepOuts.map((keepOut) => keptOut(keepOut, rules.treatedSoilClearanceMetres))];
}

function keptOut(keepOut: KeepOut, treatedSoilClearance: number): Forbidden {
  const { id } = keepOut;
  const other: Remedy = { kind: 'other_side', id };
  switch (keepOut.kind) {
    case 'utility_line':
      return forbidden({ kind: 'keep_out', id }, other, strip(keepOut.path, keepOut.clearanceMetres));
    case 'well':
    case 'drain':
      return forbidden({ kind: 'keep_out', id }, other, [circle(keepOut.at, keepOut.clearanceMetres)]);
    case 'treated_soil':
      return forbidden(
        { kind: 'treated_soil', id },
        { kind: 'beyond_treated_soil', id },
        treatedSoilClearance > 0 ? grown(keepOut.outline, treatedSoilClearance) : [keepOut.outline],
      );
  }
}

function forbidden(why: BlockedBy, remedy: Remedy, rings: Forbidden['rings']): Forbidden {
  const box = { west: Infinity, south: Infinity, east: -Infinity, north: -Infinity };
  for (const ring of rings) {
    for (const { x, y } of ring) {
      box.west = Math.min(box.west, x);
      box.east = Math.max(box.east, x);
      box.south = Math.min(box.south, y);
      box.north = Math.max(box.north, y);
    }
  }
  return { why, remedy, rings, box };
}

function circle({ x, y }: Point, radius: number): readonly Point[] {
  const reach = radius / Math.cos(Math.PI / CIRCLE_SIDES);
  return Array.from({ length: CIRCLE_SIDES }, (_, side) => {
    const angle = (2 * Math.PI * side) / CIRCLE_SIDES;
    return { x: x + reach * Math.cos(angle), y: y + reach * Math.sin(angle) };
  });
}

export function isForbiddenAt(p: Point, ground: Forbidden): boolean {
  const { box } = ground;
  if (p.x < box.west || p.x > box.east || p.y < box.south || p.y > box.north) return false;
  return isInside(p, ground.rings);
}

/**
 * The parts of the straight piece a-b that lie in forbidden ground, as fractions 0 to 1; its edge itself is free.
 * Cuts a-b at every edge of the ground and asks the middle of each part.
 */
export function partsIn(a: Point, b: Point, ground: Forbidden): readonly Interval[] {
  const { box } = ground;
  if (
    Math.max(a.x, b.x) < box.west ||
    Math.min(a.x, b.x) > box.east ||
    Math.max(a.y, b.y) < box.south ||
    Math.min(a.y, b.y) > box.north
  ) {
    return [];
  }
  const cuts = [0, 1];
  for (const ring of ground.rings) addCuts(a, b, ring, cuts);
  cuts.sort((one, other) => one - other);
  const parts: Interval[] = [];
  for (let index = 1; index < cuts.length; index++) {
    const from = cuts[index - 1] ?? 0;
    const to = cuts[index] ?? 1;
    if (to - from < 1e-12) continue;
    const middle = (from + to) / 2;
    const at = { x: a.x + (b.x - a.x) * middle, y: a.y + (b.y - a.y) * middle };
    if (isInside(at, ground.rings)) parts.push({ from, to });
  }
  return parts;
}

function addCuts(a: Point, b: Point, ring: readonly Point[], cuts: number[]): void {
  const rx = b.x - a.x;
  const ry = b.y - a.y;
  let c = ring[ring.length - 1];
  for (const d of ring) {
    if (c !== undefined) {
      const sx = d.x - c.x;
      const sy = d.y - c.y;
      const cross = rx * sy - ry * sx;
      if (cross !== 0) {
        const along = ((c.x - a.x) * sy - (c.y - a.y) * sx) / cross;
        const across = ((c.x - a.x) * ry - (c.y - a.y) * rx) / cross;
        if (along > 0 && along < 1 && across >= 0 && across <= 1) cuts.push(along);
      }
    }
    c = d;
  }
}
