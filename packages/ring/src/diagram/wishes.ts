import { formatLength } from '../length/index.ts';
import type { Outline, Point, Site } from '../site/model.ts';
import { edgesOf, isInside } from '../site/plane.ts';
import type { Box, Frame } from './frame.ts';
import { type LabelWish, overlaps } from './labels.ts';
import { textWidth } from './textWidth.ts';
import type { DiagramWords, SiteView } from './view.ts';

/** Labels for everything on the site that has a name or number, and the boxes of the marks they must not cover. */
export function listWishes(
  site: Site,
  view: SiteView,
  frame: Frame,
  words: DiagramWords,
): { readonly wishes: readonly LabelWish[]; readonly obstacles: readonly Box[] } {
  const { toSheet, textSize, markSize } = frame;
  const walls = site.structures.flatMap((structure) =>
    [structure.outline, ...structure.holes].flatMap((ring) => edgesOf(ring.map(toSheet))),
  );
  const half = markSize / 2;
  const beside = (
    id: string,
    text: string,
    at: Point,
    rank: number,
    style: LabelWish['style'],
  ): LabelWish => {
    const anchor = toSheet(at);
    const size = sizeOf(text, style, textSize);
    return { id, text, ...size, rank, anchor, style, ...roundPoint(anchor, half * 1.08, size, walls) };
  };
  const inside = (
    id: string,
    text: string,
    outline: Outline,
    rank: number,
    style: LabelWish['style'],
  ): LabelWish => {
    const ring = outline.map(toSheet);
    const size = sizeOf(text, style, textSize);
    const near = placesInside(ring, size);
    const anchor = near[0] ?? middleOf(ring);
    return {
      id,
      text,
      ...size,
      rank,
      anchor,
      style,
      near,
      far: roundPoint(anchor, textSize, size, walls).far,
    };
  };

  const wishes: LabelWish[] = [
    ...site.stations.map((station) =>
      beside(`station:${station.id}`, String(station.number), station.at, 0, 'station'),
    ),
    ...site.structures.map((structure) =>
      inside(
        `structure:${structure.id}`,
        structure.name || words.foundations[structure.foundation],
        structure.outline,
        1,
        'structure',
      ),
    ),
    ...site.concerns.map((concern) =>
      beside(`concern:${concern.id}`, words.concerns[concern.kind], concern.at, 2, 'feature'),
    ),
    ...site.hardSurfaces.map((surface) =>
      inside(`surface:${surface.id}`, words.surfaces[surface.kind], surface.outline, 3, 'feature'),
    ),
    ...site.plantings.map((planting) =>
      inside(`planting:${planting.id}`, words.plantings[planting.kind], planting.outline, 3, 'feature'),
    ),
    ...site.gates.map((gate) => beside(`gate:${gate.id}`, words.gate, gate.at, 3, 'feature')),
  ];
  for (const keepOut of site.keepOuts) {
    const id = `keep-out:${keepOut.id}`;
    switch (keepOut.kind) {
      case 'well':
      case 'drain':
        wishes.push(beside(id, words[keepOut.kind], keepOut.at, 2, 'feature'));
        break;
      case 'treated_soil':
        wishes.push(inside(id, words.treatedSoil, keepOut.outline, 3, 'feature'));
        break;
      case 'utility_line':
        // Its hatching and the legend name it.
        break;
    }
  }
  if (view.wallLengths === true) wishes.push(...listWallLengths(site, view, frame));

  const points = [
    ...site.stations.map((station) => station.at),
    ...site.concerns.map((concern) => concern.at),
    ...site.keepOuts.flatMap((keepOut) =>
      keepOut.kind === 'well' || keepOut.kind === 'drain' ? [keepOut.at] : [],
    ),
  ];
  const obstacles = points.map(toSheet).map(({ x, y }) => ({
    left: x - half,
    right: x + half,
    top: y - half,
    bottom: y + half,
  }));
  return { wishes, obstacles };
}

interface Size {
  readonly width: number;
  readonly height: number;
}

export function fontSizeOf(style: LabelWish['style'], textSize: number): number {
  switch (style) {
    case 'station':
      return textSize * 1.1;
    case 'structure':
      return textSize * 1.05;
    case 'feature':
      return textSize * 0.85;
    case 'length':
      return textSize * 0.75;
  }
}

function sizeOf(text: string, style: LabelWish['style'], textSize: number): Size {
  const size = fontSizeOf(style, textSize);
  // Bold figures of stations are a little wider.
  return { width: textWidth(text, size) * (style === 'station' ? 1.08 : 1), height: size * 1.15 };
}

const DIRECTIONS = 16;
const FAR_RINGS = 28;

/** Places that touch a circle round the point, those that cross no wall first, away from walls before towards them; then wider and wider circles. */
function roundPoint(
  at: Point,
  radius: number,
  size: Size,
  walls: readonly (readonly [Point, Point])[],
): { readonly near: readonly Point[]; readonly far: readonly Point[] } {
  const ringAt = (distance: number): { readonly point: Point; readonly cost: number }[] =>
    Array.from({ length: DIRECTIONS }, (_, index) => {
      const angle = (index * 2 * Math.PI) / DIRECTIONS;
      const x = Math.cos(angle);
      const y = Math.sin(angle);
      const point = { x: at.x + x * (distance + size.width / 2), y: at.y + y * (distance + size.height / 2) };
      const box = boxAt(point, size);
      const crossed = walls.some(([a, b]) => crosses(a, b, box)) ? 4 : 0;
      // Straight up, down and sideways read best.
      return { point, cost: crossed + (index % 4 === 0 ? 0 : index % 2 === 0 ? 0.3 : 0.5) };
    }).sort((a, b) => a.cost - b.cost);
  const near = [...ringAt(radius), ...ringAt(radius * 1.3)].sort((a, b) => a.cost - b.cost);
  const far = Array.from({ length: FAR_RINGS }, (_, ring) =>
    ringAt(radius + size.height * (1 + ring)),
  ).flat();
  return { near: near.map(({ point }) => point), far: far.map(({ point }) => point) };
}

/** Middles of labels that lie wholly inside the ring, nearest to its middle first. */
function placesInside(ring: readonly Point[], size: Size): Point[] {
  const xs = ring.map((point) => point.x);
  const ys = ring.map((point) => point.y);
  const left = Math.min(...xs);
  const top = Math.min(...ys);
  const middle = middleOf(ring);
  const steps = 12;
  const places: Point[] = [middle];
  for (let row = 1; row < steps; row += 1)
    for (let column = 1; column < steps; column += 1)
      places.push({
        x: left + ((Math.max(...xs) - left) * column) / steps,
        y: top + ((Math.max(...ys) - top) * row) / steps,
      });
  const far = (point: Point): number => Math.hypot(point.x - middle.x, point.y - middle.y);
  return places
    .filter((place) => {
      const box = boxAt(place, size);
      const corners = [
        { x: box.left, y: box.top },
        { x: box.right, y: box.top },
        { x: box.left, y: box.bottom },
        { x: box.right, y: box.bottom },
      ];
      return (
        corners.every((corner) => isInside(corner, [ring])) &&
        !edgesOf(ring).some(([a, b]) => crosses(a, b, box))
      );
    })
    .sort((a, b) => far(a) - far(b));
}

function listWallLengths(site: Site, view: SiteView, frame: Frame): LabelWish[] {
  const style = view.units === 'ft' ? 'feet and inches' : 'metres';
  return site.structures.flatMap((structure) =>
    edgesOf(structure.outline).map(([a, b], index): LabelWish => {
      const text = formatLength(Math.hypot(b.x - a.x, b.y - a.y), { style, partsOfInch: 1 });
      const from = frame.toSheet(a);
      const to = frame.toSheet(b);
      const size = sizeOf(text, 'length', frame.textSize);
      const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
      const normal = { x: (to.y - from.y) / length, y: -(to.x - from.x) / length };
      const off = (Math.abs(normal.x) * size.width + Math.abs(normal.y) * size.height) / 2 + frame.line * 2;
      const anchor = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
      const ring = structure.outline.map(frame.toSheet);
      // Inside the wall first: the stations stand outside.
      const near = [0.5, 0.4, 0.6, 0.3, 0.7]
        .flatMap((along) =>
          [1, -1].map((side) => ({
            x: from.x + (to.x - from.x) * along + normal.x * off * side,
            y: from.y + (to.y - from.y) * along + normal.y * off * side,
          })),
        )
        .sort((p, q) => Number(isInside(q, [ring])) - Number(isInside(p, [ring])));
      const isShort = length < size.height * 1.5;
      return {
        id: `wall:${structure.id}:${index}`,
        text,
        ...size,
        rank: 5,
        near: isShort ? [] : near,
        far: [],
        anchor,
        style: 'length',
      };
    }),
  );
}

function boxAt({ x, y }: Point, { width, height }: Size): Box {
  return { left: x - width / 2, right: x + width / 2, top: y - height / 2, bottom: y + height / 2 };
}

function middleOf(ring: readonly Point[]): Point {
  const sum = ring.reduce((total, { x, y }) => ({ x: total.x + x, y: total.y + y }), { x: 0, y: 0 });
  return { x: sum.x / ring.length, y: sum.y / ring.length };
}

/** True when the segment touches the box: their own boxes meet, and the corners of the box do not all lie on one side of the line. */
function crosses(a: Point, b: Point, box: Box): boolean {
  const own = {
    left: Math.min(a.x, b.x) - 1e-9,
    right: Math.max(a.x, b.x) + 1e-9,
    top: Math.min(a.y, b.y) - 1e-9,
    bottom: Math.max(a.y, b.y) + 1e-9,
  };
  if (!overlaps(own, box)) return false;
  const side = (x: number, y: number): number => Math.sign((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x));
  const sides = [
    side(box.left, box.top),
    side(box.right, box.top),
    side(box.left, box.bottom),
    side(box.right, box.bottom),
  ];
  return !(sides.every((value) => value > 0) || sides.every((value) => value < 0));
}
