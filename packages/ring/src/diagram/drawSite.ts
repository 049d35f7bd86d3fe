import type { Site } from '../site/model.ts';
import { listFeatures } from './features.ts';
import { type Box, type Frame, frameOf } from './frame.ts';
import { layLegend, listFurniture, listLegend } from './furniture.ts';
import { type LabelLayout, type PlacedLabel, placeLabels } from './labels.ts';
import { STATION_MARK_KINDS } from './marks.ts';
import { markRadius, type Pen } from './parts.ts';
import { pathData } from './pathData.ts';
import { group, named, path, type Shape, type SiteDrawing } from './shapes.ts';
import { drawingToSvg } from './svg.ts';
import { type DiagramWords, HIGH, type SiteView, USUAL } from './view.ts';
import { fontSizeOf, listWishes } from './wishes.ts';
import { ENGLISH } from './words.ts';

/**
 * The site as one SVG image: for phone, desk and paper alike. On paper its width and height are millimetres, so it prints to
 * scale. Same arguments, same text.
 */
export function drawSite(site: Site, view: SiteView): string {
  return drawingToSvg(layOutSite(site, view), view.idPrefix ?? 'site');
}

/** The site as a list of shapes with its words, its scale and where its stations stand: what every renderer draws. */
export function layOutSite(site: Site, view: SiteView): SiteDrawing {
  const words = view.words ?? ENGLISH;
  const { frame, rows } = layOut(site, view, words);
  const palette = view.palette ?? (view.contrast === 'high' ? HIGH : USUAL);
  const pen: Pen = { frame, palette };
  const labels = view.labels === false ? [] : layLabels(site, view, frame, words).placed;
  return {
    width: frame.width,
    height: frame.height,
    unit: frame.unit,
    title: site.name || words.unnamed,
    description: describe(site, view, words),
    paper: palette.paper,
    shapes: [
      group(
        [
          ...listFeatures(site, view, pen, words),
          ...named(
            'labels',
            labels.flatMap((label) => labelShapes(label, pen)),
          ),
        ],
        { clip: frame.drawing },
      ),
      listFurniture(site, view, pen, words, rows),
    ],
    stations: site.stations.map(({ id, number, at }) => ({
      id,
      number,
      mark: view.marks.get(id) ?? 'monitoring',
      ...frame.toSheet(at),
      radius: markRadius(frame, id === view.nextStationId),
    })),
    metresToSheet: matrixOf(frame),
    unitsPerMetre: frame.unitsPerMetre,
    scale: frame.scale,
  };
}

/** Where every label of the drawing stands, in the unit of its sheet: what drawSite draws. */
export function layoutLabels(
  site: Site,
  view: SiteView,
): LabelLayout & { readonly obstacles: readonly Box[] } {
  const words = view.words ?? ENGLISH;
  const { frame } = layOut(site, view, words);
  const { obstacles } = listWishes(site, view, frame, words);
  return { ...layLabels(site, view, frame, words), obstacles };
}

function layOut(site: Site, view: SiteView, words: DiagramWords) {
  const entries = view.legend === false ? [] : listLegend(site, view, words);
  const plain = frameOf(site, view, 0);
  const rows = layLegend(entries, plain.foot.right - plain.foot.left, plain.textSize);
  return { frame: frameOf(site, view, rows.length), rows };
}

function layLabels(site: Site, view: SiteView, frame: Frame, words: DiagramWords): LabelLayout {
  const { wishes, obstacles } = listWishes(site, view, frame, words);
  return placeLabels(wishes, obstacles, frame.drawing);
}

function matrixOf({ toSheet }: Frame): SiteDrawing['metresToSheet'] {
  const origin = toSheet({ x: 0, y: 0 });
  const east = toSheet({ x: 1, y: 0 });
  const north = toSheet({ x: 0, y: 1 });
  return {
    a: east.x - origin.x,
    b: east.y - origin.y,
    c: north.x - origin.x,
    d: north.y - origin.y,
    e: origin.x,
    f: origin.y,
  };
}

function labelShapes({ wish, box, hasLeader }: PlacedLabel, { frame, palette }: Pen): readonly Shape[] {
  const size = fontSizeOf(wish.style, frame.textSize);
  const nearest = {
    x: Math.max(box.left, Math.min(box.right, wish.anchor.x)),
    y: Math.max(box.top, Math.min(box.bottom, wish.anchor.y)),
  };
  const leader = path(pathData([wish.anchor, nearest], false), null, {
    colour: palette.soft,
    width: frame.line * 0.6,
  });
  return [
    ...(hasLeader ? [leader] : []),
    {
      kind: 'text',
      x: (box.left + box.right) / 2,
      y: (box.top + box.bottom) / 2 + size * 0.35,
      size,
      text: wish.text,
      anchor: 'middle',
      fill: wish.style === 'length' || wish.style === 'feature' ? palette.soft : palette.ink,
      halo: { colour: isIndoors(wish.style) ? palette.building : palette.paper, width: size * 0.28 },
      ...(wish.style === 'station' ? { isBold: true } : {}),
      ...(wish.style === 'feature' ? { isItalic: true } : {}),
    },
  ];
}

function isIndoors(style: PlacedLabel['wish']['style']): boolean {
  return style === 'structure' || style === 'length';
}

function describe(site: Site, view: SiteView, words: DiagramWords): string {
  const states = STATION_MARK_KINDS.flatMap((kind) => {
    const numbers = site.stations
      .filter((station) => (view.marks.get(station.id) ?? 'monitoring') === kind)
      .map((station) => station.number);
    return numbers.length === 0 ? [] : [`${words.marks[kind]} ${numbers.join(', ')}`];
  });
  return words.summary(site.stations.length, site.structures.length, states.join('; '));
}
