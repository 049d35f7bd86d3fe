import type { Site } from '../site/model.ts';
import { drawFeatures } from './features.ts';
import { type Box, type Frame, frameOf } from './frame.ts';
import { drawFurniture, layLegend, listLegend } from './furniture.ts';
import { type LabelLayout, type PlacedLabel, placeLabels } from './labels.ts';
import { STATION_MARK_KINDS } from './marks.ts';
import { drawPatterns, type PatternName, type Pen } from './parts.ts';
import { element, escapeText, pathData } from './svg.ts';
import { type DiagramWords, ENGLISH, HIGH, type SiteView, USUAL } from './view.ts';
import { fontSizeOf, listWishes } from './wishes.ts';

/**
 * The site as one SVG image (SVG 1.1 and ARIA names): for phone, desk and paper alike. On paper its width and height are
 * millimetres, so it prints to scale. Same arguments, same text.
 */
export function drawSite(site: Site, view: SiteView): string {
  const words = view.words ?? ENGLISH;
  const prefix = view.idPrefix ?? 'site';
  const { frame, rows } = layOut(site, view, words);
  const idOf = (name: PatternName | 'title' | 'desc' | 'clip'): string => `${prefix}-${name}`;
  const palette = view.contrast === 'high' ? HIGH : USUAL;
  const pen: Pen = { frame, palette, fill: (pattern) => `url(#${idOf(pattern)})` };
  const { drawing, width, height, unit } = frame;
  const labels = layLabels(site, view, frame, words);

  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${width}${unit}`,
      height: `${height}${unit}`,
      viewBox: `0 0 ${width} ${height}`,
      role: 'img',
      'aria-labelledby': `${idOf('title')} ${idOf('desc')}`,
      'font-family': 'Helvetica, Arial, "Liberation Sans", sans-serif',
    },
    element('title', { id: idOf('title') }, escapeText(site.name || words.unnamed)),
    element('desc', { id: idOf('desc') }, escapeText(describe(site, view, words))),
    element(
      'defs',
      {},
      element('clipPath', { id: idOf('clip') }, element('rect', rectOf(drawing))),
      drawPatterns(pen, idOf),
    ),
    element('rect', { width, height, fill: palette.paper }),
    element(
      'g',
      { 'clip-path': `url(#${idOf('clip')})` },
      drawFeatures(site, view, pen, words),
      element('g', { class: 'labels' }, ...labels.placed.map((label) => drawLabel(label, pen))),
    ),
    drawFurniture(site, view, pen, words, rows),
  );
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

function drawLabel({ wish, box, hasLeader }: PlacedLabel, { frame, palette }: Pen): string {
  const size = fontSizeOf(wish.style, frame.textSize);
  const x = (box.left + box.right) / 2;
  const y = (box.top + box.bottom) / 2;
  const halo = { 'paint-order': 'stroke', stroke: palette.paper, 'stroke-width': size * 0.28 };
  const nearest = {
    x: Math.max(box.left, Math.min(box.right, wish.anchor.x)),
    y: Math.max(box.top, Math.min(box.bottom, wish.anchor.y)),
  };
  const leader = hasLeader
    ? element('path', {
        d: pathData([wish.anchor, nearest], false),
        stroke: palette.soft,
        'stroke-width': frame.line * 0.6,
        fill: 'none',
      })
    : '';
  return (
    leader +
    element(
      'text',
      {
        x,
        y: y + size * 0.35,
        'font-size': size,
        'font-weight': wish.style === 'station' ? 'bold' : undefined,
        'font-style': wish.style === 'feature' ? 'italic' : undefined,
        'text-anchor': 'middle',
        fill: wish.style === 'length' || wish.style === 'feature' ? palette.soft : palette.ink,
        'stroke-linejoin': 'round',
        ...halo,
      },
      escapeText(wish.text),
    )
  );
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

function rectOf(box: Box) {
  return { x: box.left, y: box.top, width: box.right - box.left, height: box.bottom - box.top };
}
