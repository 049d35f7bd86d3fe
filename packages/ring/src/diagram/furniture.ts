import { METRES_PER_FOOT } from '@sillwatch/trade/units';
import type { Point, Site } from '../site/model.ts';
import type { Frame } from './frame.ts';
import { CONCERN_PARTS, DRAIN_PARTS, STATION_MARK_KINDS, STATION_MARK_PARTS, WELL_PARTS } from './marks.ts';
import { drawMark, type PatternName, type Pen } from './parts.ts';
import { element, escapeText, pathData } from './svg.ts';
import { textWidth } from './textWidth.ts';
import type { DiagramWords, SiteView } from './view.ts';

/** One line of the legend: a picture in a box of one text height, and its words. */
export interface LegendEntry {
  readonly words: string;
  readonly draw: (middle: Point, size: number, pen: Pen) => string;
}

/** Only what is on this drawing. */
export function listLegend(site: Site, view: SiteView, words: DiagramWords): LegendEntry[] {
  const used = new Set(site.stations.map((station) => view.marks.get(station.id) ?? 'monitoring'));
  const entries: LegendEntry[] = STATION_MARK_KINDS.filter((kind) => used.has(kind)).map((kind) => ({
    words: words.marks[kind],
    draw: (middle, size, { palette }) =>
      drawMark(STATION_MARK_PARTS[kind], middle, size, palette.marks[kind], palette.paper),
  }));
  const area = (pattern: PatternName, name: string): LegendEntry => ({
    words: name,
    draw: ({ x, y }, size, { fill, palette, frame }) =>
      element('rect', {
        x: x - size / 2,
        y: y - size / 2,
        width: size,
        height: size,
        fill: fill(pattern),
        stroke: palette.soft,
        'stroke-width': frame.line * 0.6,
      }),
  });
  const mark = (parts: typeof CONCERN_PARTS, name: string): LegendEntry => ({
    words: name,
    draw: (middle, size, { palette }) => drawMark(parts, middle, size, palette.ink, palette.paper),
  });
  const line = (name: string, isThick: boolean, colour: (pen: Pen) => string): LegendEntry => ({
    words: name,
    draw: ({ x, y }, size, pen) =>
      element('path', {
        d: `M${x - size / 2} ${y}h${size}`,
        fill: 'none',
        stroke: colour(pen),
        'stroke-width': pen.frame.line * (isThick ? 6 : 1.2),
        'stroke-dasharray': isThick
          ? `${pen.frame.line * 1.2} ${pen.frame.line * 2.4}`
          : `${pen.frame.line * 4} ${pen.frame.line * 3}`,
      }),
  });
  if (site.concerns.length > 0) entries.push(mark(CONCERN_PARTS, words.concern));
  if (site.hardSurfaces.some((surface) => surface.kind !== 'pool'))
    entries.push(area('hard', words.surfaces.other_hard_surface));
  if (site.hardSurfaces.some((surface) => surface.kind === 'pool'))
    entries.push(area('water', words.surfaces.pool));
  if (site.plantings.some((planting) => planting.kind === 'planting'))
    entries.push(area('plant', words.plantings.planting));
  if (site.plantings.some((planting) => planting.kind === 'wood_to_soil'))
    entries.push(area('wood', words.plantings.wood_to_soil));
  const kinds = new Set(site.keepOuts.map((keepOut) => keepOut.kind));
  if (kinds.has('treated_soil')) entries.push(area('treated', words.treatedSoil));
  if (kinds.has('utility_line')) entries.push(area('utility', words.utilityLine));
  if (kinds.has('well')) entries.push(mark(WELL_PARTS, words.well));
  if (kinds.has('drain')) entries.push(mark(DRAIN_PARTS, words.drain));
  if ((view.unguarded ?? []).length > 0)
    entries.push(line(words.unguarded, true, (pen) => pen.palette.alarm));
  if (view.walk !== undefined) entries.push(line(words.walk, false, (pen) => pen.palette.walk));
  return entries;
}

/** Entries one after the other, as many a row as fit. Text 0.85 of the usual size. */
export function layLegend(
  entries: readonly LegendEntry[],
  width: number,
  textSize: number,
): readonly (readonly { readonly entry: LegendEntry; readonly left: number }[])[] {
  const rows: { entry: LegendEntry; left: number }[][] = [];
  let left = 0;
  for (const entry of entries) {
    const needed = textSize * 2.6 + textWidth(entry.words, textSize * 0.85);
    const row = rows.at(-1);
    if (row === undefined || left + needed > width) {
      rows.push([{ entry, left: 0 }]);
      left = needed;
    } else {
      row.push({ entry, left });
      left += needed;
    }
  }
  return rows;
}

export function drawFurniture(
  site: Site,
  view: SiteView,
  pen: Pen,
  words: DiagramWords,
  rows: ReturnType<typeof layLegend>,
): string {
  const { frame, palette } = pen;
  const { textSize, head, foot } = frame;
  const text = (
    x: number,
    y: number,
    size: number,
    content: string,
    more: Record<string, string> = {},
  ): string => element('text', { x, y, 'font-size': size, fill: palette.ink, ...more }, escapeText(content));
  const scale = frame.scale === null ? '' : `1:${frame.scale}`;
  const title = fitText(
    site.name || words.unnamed,
    head.right - head.left - textWidth(scale, textSize * 1.4),
    textSize * 1.4,
  );
  const parts = [
    text(head.left, head.top + textSize * 1.3, textSize * 1.4, title, { 'font-weight': 'bold' }),
    scale === ''
      ? ''
      : text(head.right, head.top + textSize * 1.3, textSize * 1.2, scale, { 'text-anchor': 'end' }),
    view.note === undefined
      ? ''
      : text(
          head.left,
          head.top + textSize * 2.9,
          textSize,
          fitText(view.note, head.right - head.left, textSize),
        ),
    drawScaleBars(frame, pen),
    drawNorth(pen, words),
    ...rows.flatMap((row, index) =>
      row.map(({ entry, left }) => {
        const y = foot.top + textSize * (3.6 + index * 1.7);
        const middle = { x: foot.left + left + textSize * 0.8, y };
        return (
          entry.draw(middle, textSize * 1.3, pen) +
          text(middle.x + textSize * 1, y + textSize * 0.3, textSize * 0.85, entry.words)
        );
      }),
    ),
  ];
  if (frame.fittingScale !== null)
    parts.push(
      text(head.left, head.bottom + textSize, textSize, words.tooLarge(frame.fittingScale), {
        'font-weight': 'bold',
        'paint-order': 'stroke',
        stroke: palette.paper,
        'stroke-width': String(textSize / 4),
      }),
    );
  return element('g', { class: 'furniture' }, ...parts);
}

/** Cut with an ellipsis where it would run off the sheet. */
function fitText(text: string, width: number, size: number): string {
  if (textWidth(text, size) <= width) return text;
  const characters = Array.from(text);
  while (characters.length > 1 && textWidth(`${characters.join('')}…`, size) > width) characters.pop();
  return `${characters.join('')}…`;
}

/** Metres above, feet below, each the longest of 1, 2, 5, 10 ... that takes at most 40 % of the foot's width. */
function drawScaleBars(frame: Frame, { palette }: Pen): string {
  const { foot, textSize, unitsPerMetre, line } = frame;
  const most = (foot.right - foot.left) * 0.4;
  const bar = (y: number, unitsEach: number, unit: string, isAbove: boolean): string => {
    const count = roundLength(most / unitsEach);
    const width = count * unitsEach;
    const half = foot.left + width / 2;
    const right = foot.left + width;
    const height = textSize * 0.28;
    return (
      element('rect', {
        x: foot.left,
        y,
        width,
        height,
        fill: palette.paper,
        stroke: palette.ink,
        'stroke-width': line * 0.7,
      }) +
      element('rect', { x: foot.left, y, width: half - foot.left, height, fill: palette.ink }) +
      element(
        'text',
        {
          x: right + textSize * 0.4,
          y: isAbove ? y + textSize * 0.35 : y + textSize * 0.55,
          'font-size': textSize * 0.85,
          fill: palette.ink,
        },
        escapeText(`${count} ${unit}`),
      )
    );
  };
  return element(
    'g',
    { class: 'scale-bars' },
    bar(foot.top + textSize * 0.7, unitsPerMetre, 'm', true),
    bar(foot.top + textSize * 1.55, unitsPerMetre * METRES_PER_FOOT, 'ft', false),
  );
}

function roundLength(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  const share = most / power;
  return (share >= 5 ? 5 : share >= 2 ? 2 : 1) * power;
}

function drawNorth({ frame, palette }: Pen, words: DiagramWords): string {
  const { foot, textSize } = frame;
  const size = textSize * 1.25;
  const x = foot.right - textSize * 1.8;
  const y = foot.top + textSize * 1.45;
  return element(
    'g',
    { class: 'north', transform: `translate(${x.toFixed(2)} ${y.toFixed(2)}) rotate(${frame.turnDegrees})` },
    element('path', {
      d: pathData(
        [
          { x: 0, y: -size },
          { x: size * 0.5, y: size * 0.7 },
          { x: 0, y: size * 0.35 },
        ],
        true,
      ),
      fill: palette.ink,
      stroke: palette.ink,
      'stroke-width': frame.line * 0.7,
    }),
    element('path', {
      d: pathData(
        [
          { x: 0, y: -size },
          { x: -size * 0.5, y: size * 0.7 },
          { x: 0, y: size * 0.35 },
        ],
        true,
      ),
      fill: palette.paper,
      stroke: palette.ink,
      'stroke-width': frame.line * 0.7,
    }),
    element(
      'text',
      {
        x: size * 0.9,
        y: textSize * 0.3,
        'font-size': textSize,
        'font-weight': 'bold',
        fill: palette.ink,
        transform: `rotate(${-frame.turnDegrees} ${(size * 0.9).toFixed(2)} 0)`,
      },
      escapeText(words.north),
    ),
  );
}
