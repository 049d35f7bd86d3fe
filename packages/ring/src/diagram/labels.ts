import type { Point } from '../site/model.ts';
import type { Box } from './frame.ts';

/** A label that wants a place. Candidates come best first. */
export interface LabelWish {
  readonly id: string;
  readonly text: string;
  readonly width: number;
  readonly height: number;
  /** Lower is placed first. */
  readonly rank: number;
  /** Middles of the label without a leader line. */
  readonly near: readonly Point[];
  /** Middles that need a leader line back to `anchor`. */
  readonly far: readonly Point[];
  readonly anchor: Point;
  readonly style: 'station' | 'structure' | 'feature' | 'length';
}

export interface PlacedLabel {
  readonly wish: LabelWish;
  readonly box: Box;
  readonly hasLeader: boolean;
}

export interface LabelLayout {
  readonly placed: readonly PlacedLabel[];
  /** What found no room; the legend and the text of the drawing still tell of it. */
  readonly dropped: readonly LabelWish[];
}

/** Labels keep this share of their height from each other, so that they read as two. */
const GAP_SHARE = 0.12;

/**
 * Gives each label a place where it covers no mark and no other label, inside `sheet`. A label whose near places are all taken
 * may push one other aside that has another near place (ejection of length one); then it takes a leader line; then it is dropped.
 */
export function placeLabels(
  wishes: readonly LabelWish[],
  obstacles: readonly Box[],
  sheet: Box,
): LabelLayout {
  const placed: PlacedLabel[] = [];
  const dropped: LabelWish[] = [];
  // Within a rank the label with the least room goes first.
  const room = new Map(wishes.map((wish) => [wish, freeOf(wish.near, wish, obstacles, sheet, [])]));
  const ordered = wishes.toSorted(
    (a, b) => a.rank - b.rank || (room.get(a)?.length ?? 0) - (room.get(b)?.length ?? 0),
  );
  for (const wish of ordered) {
    const near = room.get(wish) ?? [];
    const box =
      near.find((candidate) => !placed.some((other) => overlaps(candidate, other.box))) ??
      makeRoom(near, placed, room);
    if (box !== undefined) {
      placed.push({ wish, box, hasLeader: false });
      continue;
    }
    const [far] = freeOf(wish.far, wish, obstacles, sheet, placed, 1);
    if (far === undefined) dropped.push(wish);
    else placed.push({ wish, box: far, hasLeader: true });
  }
  return { placed, dropped };
}

/** Moves one label that stands in the way to another of its near places; gives the place that became free. */
function makeRoom(
  near: readonly Box[],
  placed: PlacedLabel[],
  room: ReadonlyMap<LabelWish, readonly Box[]>,
): Box | undefined {
  for (const candidate of near) {
    const blocking = placed.filter((other) => overlaps(candidate, other.box));
    const [only, second] = blocking;
    if (only === undefined || second !== undefined || only.hasLeader) continue;
    const others = placed.filter((other) => other !== only);
    const elsewhere = (room.get(only.wish) ?? []).find(
      (box) => !overlaps(box, candidate) && !others.some((other) => overlaps(box, other.box)),
    );
    if (elsewhere === undefined) continue;
    placed[placed.indexOf(only)] = { wish: only.wish, box: elsewhere, hasLeader: false };
    return candidate;
  }
  return undefined;
}

function freeOf(
  middles: readonly Point[],
  wish: LabelWish,
  obstacles: readonly Box[],
  sheet: Box,
  placed: readonly PlacedLabel[],
  most = Number.POSITIVE_INFINITY,
): Box[] {
  const free: Box[] = [];
  const gap = wish.height * GAP_SHARE;
  for (const middle of middles) {
    if (free.length >= most) break;
    const box = {
      left: middle.x - wish.width / 2 - gap,
      right: middle.x + wish.width / 2 + gap,
      top: middle.y - wish.height / 2 - gap,
      bottom: middle.y + wish.height / 2 + gap,
    };
    const isOnSheet =
      box.left >= sheet.left &&
      box.right <= sheet.right &&
      box.top >= sheet.top &&
      box.bottom <= sheet.bottom;
    if (!isOnSheet || obstacles.some((obstacle) => overlaps(box, obstacle))) continue;
    if (!placed.some((other) => overlaps(box, other.box))) free.push(box);
  }
  return free;
}

/** Touching edges do not overlap. */
export function overlaps(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
