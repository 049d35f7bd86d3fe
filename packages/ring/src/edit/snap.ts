import type { Point, Site } from '../site/model.ts';
import { between, crossing, distance, footFraction } from '../site/plane.ts';
import { stepAt } from '../traverse/direction.ts';
import { endsOf } from './reshape.ts';
import { listThings, type Ring, ringsOf } from './things.ts';

/** What a place was drawn to, for the screen to show and say. */
export const SNAPS = ['corner', 'straight on', 'right angle', 'compass', 'wall', 'whole length'] as const;
export type SnapKind = (typeof SNAPS)[number];

/** A line on which the next corner would make the drawing regular. */
export interface Guide {
  readonly through: Point;
  /** clockwise from north; the line goes both ways */
  readonly azimuthDegrees: number;
  readonly kind: 'straight on' | 'right angle' | 'compass';
}

export interface SnapQuestion {
  readonly site: Site;
  /** Farther than this nothing is moved, metres. */
  readonly reachMetres: number;
  /** Lengths come in whole steps of this, metres: an inch or a centimetre; 0 = any. */
  readonly stepMetres: number;
  readonly guides: readonly Guide[];
  /** Corners that are not yet on the site. */
  readonly corners?: readonly Point[];
  /** The corner from which the wall to this place runs. */
  readonly from?: Point;
  /** The thing that is being moved: its own walls do not count. */
  readonly skip?: string;
}

export interface Snapped {
  readonly at: Point;
  /** What it was drawn to, the strongest first; empty where it stayed. */
  readonly to: readonly SnapKind[];
  readonly guides: readonly Guide[];
}

/**
 * The place that a hand most likely meant: a corner, else where two guides or a guide and a wall cross, else a guide, else a
 * wall, else the next whole length. Never farther away than the reach.
 */
export function snap(at: Point, question: SnapQuestion): Snapped {
  const { reachMetres: reach } = question;
  const near = (to: Point) => distance(at, to) <= reach;
  const rings = listThings(question.site)
    .filter(({ value }) => value.id !== question.skip)
    .flatMap(ringsOf);
  const corner = nearestOf(at, [...rings.flatMap(({ points }) => points), ...(question.corners ?? [])]);
  if (corner !== undefined && near(corner)) return { at: corner, to: ['corner'], guides: [] };

  const guides = question.guides
    .map((guide) => ({ guide, foot: footOn(guide, at) }))
    .filter(({ foot }) => near(foot))
    .sort((a, b) => distance(at, a.foot) - distance(at, b.foot));
  const [first] = guides;
  const wall = nearestWall(at, rings);
  if (first !== undefined) {
    for (const { guide } of guides.slice(1)) {
      const met = meetOf(first.guide, guide);
      if (met !== undefined && near(met))
        return { at: met, to: [first.guide.kind, guide.kind], guides: [first.guide, guide] };
    }
    const onWall = wall === undefined ? undefined : meetOfWall(first.guide, wall, reach);
    if (onWall !== undefined && near(onWall))
      return { at: onWall, to: [first.guide.kind, 'wall'], guides: [first.guide] };
    const whole = wholeAlong(first.guide, first.foot, question.stepMetres);
    return near(whole)
      ? { at: whole, to: [first.guide.kind, 'whole length'], guides: [first.guide] }
      : { at: first.foot, to: [first.guide.kind], guides: [first.guide] };
  }
  if (wall !== undefined && near(wall.foot)) return { at: wall.foot, to: ['wall'], guides: [] };
  const whole = wholeLength(at, question);
  return near(whole) ? { at: whole, to: ['whole length'], guides: [] } : { at, to: [], guides: [] };
}

/** The lines on which a corner of a ring makes a right angle or goes straight on, seen from both of its neighbours. */
export function guidesRound({ points, isClosed }: Ring, index: number): readonly Guide[] {
  const count = points.length;
  const pick = (at: number) => (isClosed ? points[(at + 2 * count) % count] : points[at]);
  return [
    ...guidesFrom(pick(index - 2), pick(index - 1)),
    ...guidesFrom(pick(index + 2), pick(index + 1)),
  ].filter((guide, at, all) => all.findIndex((other) => isSame(guide, other)) === at);
}

/** The lines that go on from `to`, where a wall from `from` ended; along the compass where there is no such wall. */
export function guidesFrom(from: Point | undefined, to: Point | undefined): readonly Guide[] {
  if (to === undefined) return [];
  const compass = [0, 90].map((azimuthDegrees): Guide => ({ through: to, azimuthDegrees, kind: 'compass' }));
  if (from === undefined || distance(from, to) === 0) return compass;
  const azimuthDegrees = (Math.atan2(to.x - from.x, to.y - from.y) * 180) / Math.PI;
  return [
    { through: to, azimuthDegrees, kind: 'straight on' },
    { through: to, azimuthDegrees: azimuthDegrees + 90, kind: 'right angle' },
    ...compass.filter(
      (line) => Math.abs(Math.sin((2 * (azimuthDegrees - line.azimuthDegrees) * Math.PI) / 180)) > 1e-6,
    ),
  ];
}

function isSame(one: Guide, other: Guide): boolean {
  return (
    distance(one.through, other.through) === 0 &&
    Math.abs(Math.sin(((one.azimuthDegrees - other.azimuthDegrees) * Math.PI) / 180)) < 1e-9
  );
}

function nearestOf(at: Point, points: readonly Point[]): Point | undefined {
  return points.reduce<Point | undefined>(
    (best, point) => (best === undefined || distance(at, point) < distance(at, best) ? point : best),
    undefined,
  );
}

interface NearWall {
  readonly a: Point;
  readonly b: Point;
  readonly foot: Point;
}

function nearestWall(at: Point, rings: readonly Ring[]): NearWall | undefined {
  let best: NearWall | undefined;
  for (const ring of rings) {
    for (const index of ring.points.keys()) {
      const ends = endsOf(ring, index);
      if (ends === undefined) continue;
      const [a, b] = ends;
      const foot = between(a, b, footFraction(at, a, b));
      if (best === undefined || distance(at, foot) < distance(at, best.foot)) best = { a, b, foot };
    }
  }
  return best;
}

function footOn({ through, azimuthDegrees }: Guide, at: Point): Point {
  const { east, north } = stepAt(azimuthDegrees);
  const along = (at.x - through.x) * east + (at.y - through.y) * north;
  return { x: through.x + along * east, y: through.y + along * north };
}

function wholeAlong({ through, azimuthDegrees }: Guide, foot: Point, step: number): Point {
  if (!(step > 0)) return foot;
  const { east, north } = stepAt(azimuthDegrees);
  const along = (foot.x - through.x) * east + (foot.y - through.y) * north;
  const whole = Math.round(along / step) * step;
  return { x: through.x + whole * east, y: through.y + whole * north };
}

function wholeLength(at: Point, { from, stepMetres }: SnapQuestion): Point {
  if (!(stepMetres > 0)) return at;
  const whole = (value: number) => Math.round(value / stepMetres) * stepMetres;
  const length = from === undefined ? 0 : distance(from, at);
  if (from === undefined || length < stepMetres) return { x: whole(at.x), y: whole(at.y) };
  return between(from, at, whole(length) / length);
}

function meetOf(one: Guide, other: Guide): Point | undefined {
  const a = stepAt(one.azimuthDegrees);
  const b = stepAt(other.azimuthDegrees);
  const cross = a.east * b.north - a.north * b.east;
  if (Math.abs(cross) < 1e-9) return undefined;
  const dx = other.through.x - one.through.x;
  const dy = other.through.y - one.through.y;
  const along = (dx * b.north - dy * b.east) / cross;
  return { x: one.through.x + along * a.east, y: one.through.y + along * a.north };
}

/** Where the guide meets the wall, looked for within twice the reach of the wall's foot. */
function meetOfWall(guide: Guide, { a, b, foot }: NearWall, reach: number): Point | undefined {
  const near = footOn(guide, foot);
  const { east, north } = stepAt(guide.azimuthDegrees);
  const from = { x: near.x - 2 * reach * east, y: near.y - 2 * reach * north };
  const to = { x: near.x + 2 * reach * east, y: near.y + 2 * reach * north };
  const met = crossing(a, b, from, to);
  return met === undefined ? undefined : between(a, b, met.along);
}
