import type { KeepOut, Point, Site } from '../site/model.ts';
import type { Medium, SiteView } from './view.ts';

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The sheet, the part of it that is drawn on, and how metres become its units (pixels or millimetres, y down). */
export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly unit: 'px' | 'mm';
  readonly drawing: Box;
  /** Legend, scale bars and north arrow stand under the drawing. */
  readonly foot: Box;
  /** Name and note stand above it. */
  readonly head: Box;
  readonly unitsPerMetre: number;
  /** The N of 1:N on paper; null on a screen, where it has no meaning. */
  readonly scale: number | null;
  /** The scale at which it would fit, where it does not. */
  readonly fittingScale: number | null;
  readonly turnDegrees: number;
  readonly textSize: number;
  readonly markSize: number;
  readonly line: number;
  readonly toSheet: (point: Point) => Point;
}

const SCALES = [50, 100, 200, 250, 500, 1000, 2000] as const;
/** US letter, 8.5 by 11 inches (ANSI Y14.1, size A). */
const LETTER = { short: 215.9, long: 279.4 } as const;
const MARGIN_MM = 10;
/** Room for marks and labels round the outermost wall. */
const EDGE_METRES = 1.5;
const SMALL_SCREEN_PX = 480;

export function frameOf(site: Site, view: SiteView, legendRows: number): Frame {
  const turnDegrees = view.turnDegrees ?? 0;
  const turn = turner(turnDegrees);
  const window = view.medium.kind === 'screen' ? view.medium.window : undefined;
  const bounds = window ?? boundsOf(listPoints(site, view).map(turn));
  const edge = window === undefined ? EDGE_METRES : 0;
  const sizes = sizesOf(view.medium);
  const { width, margin, textSize } = sizes;
  const headHeight = view.heading === false ? 0 : textSize * (view.note === undefined ? 2.2 : 3.6);
  const footHeight = textSize * (3.4 + legendRows * 1.7);
  const around = headHeight + footHeight + 2 * margin;
  const across = bounds.right - bounds.left + 2 * edge;
  const down = bounds.bottom - bounds.top + 2 * edge;
  const room = Math.min((width - 2 * margin) / across, Math.max(sizes.height - around, textSize) / down);
  const { unitsPerMetre, scale, fittingScale } = chooseScale(view.medium, room);
  const height = isSnug(view.medium)
    ? Math.min(sizes.height, Math.ceil(down * unitsPerMetre + around))
    : sizes.height;
  const inner = { left: margin, top: margin, right: width - margin, bottom: height - margin };
  const drawing = { ...inner, top: inner.top + headHeight, bottom: inner.bottom - footHeight };
  const middle = { x: (bounds.left + bounds.right) / 2, y: (bounds.top + bounds.bottom) / 2 };
  const centre = { x: (drawing.left + drawing.right) / 2, y: (drawing.top + drawing.bottom) / 2 };
  return {
    width,
    height,
    unit: view.medium.kind === 'screen' ? 'px' : 'mm',
    drawing,
    head: { ...inner, bottom: drawing.top },
    foot: { ...inner, top: drawing.bottom },
    unitsPerMetre,
    scale,
    fittingScale,
    turnDegrees,
    textSize,
    markSize: fitMarks(site, sizes.markSize, unitsPerMetre),
    line: sizes.line * (view.contrast === 'high' ? 1.4 : 1),
    toSheet: (point) => {
      const turned = turn(point);
      return {
        x: centre.x + (turned.x - middle.x) * unitsPerMetre,
        y: centre.y - (turned.y - middle.y) * unitsPerMetre,
      };
    },
  };
}

function isSnug(medium: Medium): boolean {
  switch (medium.kind) {
    case 'screen':
      return medium.isSnug === true;
    case 'print':
      return typeof medium.paper === 'object' && medium.paper.isSnug === true;
  }
}

function sizesOf(medium: Medium) {
  switch (medium.kind) {
    case 'screen': {
      const isSmall = medium.width < SMALL_SCREEN_PX;
      return {
        width: medium.width,
        height: medium.height,
        margin: isSmall ? 6 : 12,
        textSize: isSmall ? 14 : 13,
        markSize: isSmall ? 26 : 22,
        line: 1.6,
      };
    }
    case 'print': {
      return {
        ...sheetOf(medium.paper),
        textSize: 3,
        markSize: 4.6,
        line: 0.35,
      };
    }
  }
}

function sheetOf(paper: Extract<Medium, { kind: 'print' }>['paper']) {
  switch (paper) {
    case 'letter':
      return { width: LETTER.short, height: LETTER.long, margin: MARGIN_MM };
    case 'letter landscape':
      return { width: LETTER.long, height: LETTER.short, margin: MARGIN_MM };
    default:
      // Part of a page that has margins of its own.
      return { width: paper.widthMillimetres, height: paper.heightMillimetres, margin: 0 };
  }
}

function chooseScale(medium: Medium, room: number) {
  if (medium.kind === 'screen') return { unitsPerMetre: room, scale: null, fittingScale: null };
  const fitting = SCALES.find((scale) => 1000 / scale <= room) ?? Math.ceil(1000 / room / 1000) * 1000;
  const scale = medium.scale === 'fit' ? fitting : medium.scale;
  const unitsPerMetre = 1000 / scale;
  return { unitsPerMetre, scale, fittingScale: unitsPerMetre > room ? fitting : null };
}

/**
 * Marks shrink where stations stand closer than a mark is wide, down to a little over half: smaller ones could not be told
 * apart. The closest tenth of the stations does not count, so that a few set beside a hit do not shrink all the others.
 */
function fitMarks(site: Site, usual: number, unitsPerMetre: number): number {
  const gaps = site.stations
    .map(({ id, at }) =>
      site.stations.reduce(
        (least, other) =>
          other.id === id ? least : Math.min(least, Math.hypot(at.x - other.at.x, at.y - other.at.y)),
        Number.POSITIVE_INFINITY,
      ),
    )
    .sort((a, b) => a - b);
  const tight = gaps[Math.floor(gaps.length / 10)] ?? Number.POSITIVE_INFINITY;
  return Math.max(usual * 0.55, Math.min(usual, tight * unitsPerMetre * 0.9));
}

/** Clockwise on the sheet, so that at 90 degrees north points to the right. */
function turner(degrees: number): (point: Point) => Point {
  const radians = (degrees * Math.PI) / 180;
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return ({ x, y }) => ({ x: x * cos + y * sin, y: y * cos - x * sin });
}

function listPoints(site: Site, view: SiteView): Point[] {
  return [
    ...site.structures.flatMap((structure) => structure.outline),
    ...site.hardSurfaces.flatMap((surface) => surface.outline),
    ...site.plantings.flatMap((planting) => planting.outline),
    ...site.keepOuts.flatMap(pointsOf),
    ...site.concerns.map((concern) => concern.at),
    ...site.fences.flatMap((fence) => fence.path),
    ...site.gates.map((gate) => gate.at),
    ...site.stations.map((station) => station.at),
    ...(site.parking === undefined ? [] : [site.parking]),
    ...(view.walk ?? []),
  ];
}

function pointsOf(keepOut: KeepOut): readonly Point[] {
  switch (keepOut.kind) {
    case 'utility_line':
      return keepOut.path;
    case 'treated_soil':
      return keepOut.outline;
    case 'well':
    case 'drain':
      return [keepOut.at];
  }
}

/** `top` is the least y. A site without a point is taken for one metre round its origin. */
function boundsOf(points: readonly Point[]): Box {
  const first = points[0] ?? { x: 0, y: 0 };
  return points.reduce<Box>(
    (box, { x, y }) => ({
      left: Math.min(box.left, x),
      right: Math.max(box.right, x),
      top: Math.min(box.top, y),
      bottom: Math.max(box.bottom, y),
    }),
    { left: first.x, right: first.x, top: first.y, bottom: first.y },
  );
}
