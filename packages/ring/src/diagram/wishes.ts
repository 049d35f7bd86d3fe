import { formatLength } from '../length/index.ts';
import type { Outline, Point, Site } from '../site/model.ts';
import { edgesOf, isInside } from '../site/plane.ts';
import type { Box, Frame } from './frame.ts';
import {
  FAR_RINGS,
  middleOf,
  placesInside,
  roundPoint,
  type Size,
  type Surroundings,
} from './labelPlaces.ts';
import type { LabelWish } from './labels.ts';
import { gateRadius, markRadius } from './parts.ts';
import { textWidth } from './textWidth.ts';
import type { DiagramWords, SiteView } from './view.ts';

/** Labels for everything on the site that has a name or number, and the boxes of the marks they must not cover. */
export function listWishes(
  site: Site,
  view: SiteView,
  frame: Frame,
  words: DiagramWords,
): { readonly wishes: readonly LabelWish[]; readonly obstacles: readonly Box[] } {
  const { toSheet, textSize } = frame;
  const rings = site.structures.map((structure) =>
    [structure.outline, ...structure.holes].map((ring) => ring.map(toSheet)),
  );
  const around: Surroundings = {
    walls: rings.flat().flatMap(edgesOf),
    isIndoors: (point) => rings.some((own) => isInside(point, own)),
    marks: site.stations.map((station) => toSheet(station.at)),
  };
  const half = frame.markSize / 2;
  /** Marks and the room they take. */
  const obstacles: Box[] = [];
  const beside = (
    id: string,
    text: string,
    at: Point,
    radius: number,
    rank: number,
    style: LabelWish['style'],
  ): LabelWish => {
    const anchor = toSheet(at);
    const size = sizeOf(text, style, textSize);
    obstacles.push(squareRound(anchor, radius));
    return {
      id,
      text,
      ...size,
      rank,
      anchor,
      style,
      ...roundPoint(anchor, radius + size.height * 0.15, size, around, farRingsOf(style)),
    };
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
      far: roundPoint(anchor, textSize, size, around, farRingsOf(style)).far,
    };
  };

  const wishes: LabelWish[] = [
    ...site.stations.map((station) =>
      beside(
        `station:${station.id}`,
        view.doneStationIds?.has(station.id) === true ? `✓${station.number}` : String(station.number),
        station.at,
        markRadius(frame, station.id === view.nextStationId),
        0,
        'station',
      ),
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
      beside(`concern:${concern.id}`, words.concerns[concern.kind], concern.at, half, 2, 'feature'),
    ),
    ...site.hardSurfaces.map((surface) =>
      inside(`surface:${surface.id}`, words.surfaces[surface.kind], surface.outline, 3, 'feature'),
    ),
    ...site.plantings.map((planting) =>
      inside(`planting:${planting.id}`, words.plantings[planting.kind], planting.outline, 3, 'feature'),
    ),
    ...(site.parking === undefined
      ? []
      : [beside('parking', words.parking, site.parking, half, 3, 'feature')]),
    ...site.gates.map((gate) =>
      beside(`gate:${gate.id}`, words.gate, gate.at, gateRadius(frame, gate), 3, 'feature'),
    ),
  ];
  for (const keepOut of site.keepOuts) {
    const id = `keep-out:${keepOut.id}`;
    switch (keepOut.kind) {
      case 'well':
      case 'drain':
        wishes.push(beside(id, words[keepOut.kind], keepOut.at, half, 2, 'feature'));
        break;
      case 'treated_soil':
        wishes.push(inside(id, words.treatedSoil, keepOut.outline, 3, 'feature'));
        break;
      case 'utility_line':
        // Its hatching and the legend name it.
        break;
    }
  }
  obstacles.push(...(view.handles ?? []).map((at) => squareRound(toSheet(at), half)));
  if (view.wallLengths === true) wishes.push(...listWallLengths(site, view, frame));

  // What lies off the sheet needs no label on it.
  const { left, right, top, bottom } = frame.drawing;
  const isOnSheet = ({ anchor: { x, y } }: LabelWish): boolean =>
    x >= left && x <= right && y >= top && y <= bottom;
  return { wishes: wishes.filter(isOnSheet), obstacles };
}

function squareRound({ x, y }: Point, radius: number): Box {
  return { left: x - radius, right: x + radius, top: y - radius, bottom: y + radius };
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

/** A building or feature without a label is still told by its hatching, the legend and its title. */
function farRingsOf(style: LabelWish['style']): number {
  return style === 'station' ? FAR_RINGS.required : FAR_RINGS.helpful;
}

function sizeOf(text: string, style: LabelWish['style'], textSize: number): Size {
  const size = fontSizeOf(style, textSize);
  // Bold figures of stations are a little wider.
  return { width: textWidth(text, size) * (style === 'station' ? 1.08 : 1), height: size * 1.15 };
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
      // Inside the wall first: the stations stand outside. Where handles sit on the walls there is a second row farther in.
      const rows = view.handles === undefined ? [off] : [off, off + frame.markSize * 0.6];
      const near = rows.flatMap((away) =>
        [0.5, 0.4, 0.6, 0.3, 0.7]
          .flatMap((along) =>
            [1, -1].map((side) => ({
              x: from.x + (to.x - from.x) * along + normal.x * away * side,
              y: from.y + (to.y - from.y) * along + normal.y * away * side,
            })),
          )
          .sort((p, q) => Number(isInside(q, [ring])) - Number(isInside(p, [ring]))),
      );
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
