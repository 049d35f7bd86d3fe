import { METRES_PER_FOOT } from '@sillwatch/trade/units';
import type { Point, Site } from '../site/model.ts';
import type { Frame } from './frame.ts';
import { hatch, type PatternName } from './hatch.ts';
import {
  CONCERN_PARTS,
  DRAIN_PARTS,
  PARKING_PARTS,
  STATION_MARK_KINDS,
  STATION_MARK_PARTS,
  WELL_PARTS,
} from './marks.ts';
import { markShapes, type Pen } from './parts.ts';
import { pathData, rectPath, short } from './pathData.ts';
import { type GroupShape, group, path, type Shape, type TextShape } from './shapes.ts';
import { textWidth } from './textWidth.ts';
import type { DiagramWords, SiteView } from './view.ts';

/** One line of the legend: a picture in a box of one text height, and its words. */
export interface LegendEntry {
  readonly words: string;
  readonly draw: (middle: Point, size: number, pen: Pen) => Shape;
}

/** Only what is on this drawing. */
export function listLegend(site: Site, view: SiteView, words: DiagramWords): LegendEntry[] {
  const used = new Set(site.stations.map((station) => view.marks.get(station.id) ?? 'monitoring'));
  const entries: LegendEntry[] = STATION_MARK_KINDS.filter((kind) => used.has(kind)).map((kind) => ({
    words: words.marks[kind],
    draw: (middle, size, { palette }) =>
      markShapes(STATION_MARK_PARTS[kind], middle, size, palette.marks[kind], palette.paper),
  }));
  const area = (pattern: PatternName, name: string): LegendEntry => ({
    words: name,
    draw: ({ x, y }, size, pen) => {
      const [left, top] = [x - size / 2, y - size / 2];
      const region = {
        d: rectPath(left, top, size, size),
        box: { left, top, right: left + size, bottom: top + size },
      };
      return hatch(region, pattern, pen, { colour: pen.palette.soft, width: pen.frame.line * 0.6 });
    },
  });
  const mark = (parts: typeof CONCERN_PARTS, name: string): LegendEntry => ({
    words: name,
    draw: (middle, size, { palette }) => markShapes(parts, middle, size, palette.ink, palette.paper),
  });
  const line = (name: string, isThick: boolean, colour: (pen: Pen) => string): LegendEntry => ({
    words: name,
    draw: ({ x, y }, size, pen) => {
      const { line: width } = pen.frame;
      return path(`M${short(x - size / 2)} ${short(y)}h${short(size)}`, null, {
        colour: colour(pen),
        width: width * (isThick ? 6 : 1.2),
        dash: isThick ? [width * 1.2, width * 2.4] : [width * 4, width * 3],
      });
    },
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
  if (site.parking !== undefined) entries.push(mark(PARKING_PARTS, words.parking));
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

/** Name, scale bars, north arrow and legend. */
export function listFurniture(
  site: Site,
  view: SiteView,
  pen: Pen,
  words: DiagramWords,
  rows: ReturnType<typeof layLegend>,
): GroupShape {
  const { frame, palette } = pen;
  const { textSize, head, foot } = frame;
  const write = (
    x: number,
    y: number,
    size: number,
    text: string,
    more: Partial<TextShape> = {},
  ): TextShape => ({ kind: 'text', x, y, size, text, anchor: 'start', fill: palette.ink, ...more });
  const scale = frame.scale === null ? '' : `1:${frame.scale}`;
  const room = head.right - head.left - textWidth(scale, textSize * 1.4);
  const title = fitText(site.name || words.unnamed, room, textSize * 1.4);
  const heading = [
    write(head.left, head.top + textSize * 1.3, textSize * 1.4, title, { isBold: true }),
    ...(scale === ''
      ? []
      : [write(head.right, head.top + textSize * 1.3, textSize * 1.2, scale, { anchor: 'end' })]),
    ...(view.note === undefined
      ? []
      : [
          write(
            head.left,
            head.top + textSize * 2.9,
            textSize,
            fitText(view.note, head.right - head.left, textSize),
          ),
        ]),
  ];
  const legend = rows.flatMap((row, index) =>
    row.flatMap(({ entry, left }) => {
      const y = foot.top + textSize * (3.6 + index * 1.7);
      const middle = { x: foot.left + left + textSize * 0.8, y };
      return [
        entry.draw(middle, textSize * 1.3, pen),
        write(middle.x + textSize, y + textSize * 0.3, textSize * 0.85, entry.words),
      ];
    }),
  );
  const tooLarge =
    frame.fittingScale === null
      ? []
      : [
          write(head.left, head.bottom + textSize, textSize, words.tooLarge(frame.fittingScale), {
            isBold: true,
            halo: { colour: palette.paper, width: textSize / 4 },
          }),
        ];
  return group(
    [
      ...(view.heading === false ? [] : heading),
      ...(view.scaleBars === false ? [] : [scaleBars(frame, pen), ...north(pen, words)]),
      ...legend,
      ...tooLarge,
    ],
    { name: 'furniture' },
  );
}

/** Cut with an ellipsis where it would run off the sheet. */
function fitText(text: string, width: number, size: number): string {
  if (textWidth(text, size) <= width) return text;
  const characters = Array.from(text);
  while (characters.length > 1 && textWidth(`${characters.join('')}…`, size) > width) characters.pop();
  return `${characters.join('')}…`;
}

/** Metres above, feet below, each the longest of 1, 2, 5, 10 ... that takes at most 40 % of the foot's width. */
function scaleBars(frame: Frame, { palette }: Pen): GroupShape {
  const { foot, textSize, unitsPerMetre, line } = frame;
  const most = (foot.right - foot.left) * 0.4;
  const bar = (y: number, unitsEach: number, unit: string, isAbove: boolean): readonly Shape[] => {
    const count = roundLength(most / unitsEach);
    const width = count * unitsEach;
    const height = textSize * 0.28;
    return [
      path(rectPath(foot.left, y, width, height), palette.paper, {
        colour: palette.ink,
        width: line * 0.7,
      }),
      path(rectPath(foot.left, y, width / 2, height), palette.ink, null),
      {
        kind: 'text',
        x: foot.left + width + textSize * 0.4,
        y: isAbove ? y + textSize * 0.35 : y + textSize * 0.55,
        size: textSize * 0.85,
        text: `${count} ${unit}`,
        anchor: 'start',
        fill: palette.ink,
      },
    ];
  };
  return group(
    [
      ...bar(foot.top + textSize * 0.7, unitsPerMetre, 'm', true),
      ...bar(foot.top + textSize * 1.55, unitsPerMetre * METRES_PER_FOOT, 'ft', false),
    ],
    { name: 'scale-bars' },
  );
}

function roundLength(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  const share = most / power;
  return (share >= 5 ? 5 : share >= 2 ? 2 : 1) * power;
}

/** Half black, half white; its letter stands beside it, upright however the drawing is turned. */
function north({ frame, palette }: Pen, words: DiagramWords): readonly Shape[] {
  const { foot, textSize, turnDegrees } = frame;
  const size = textSize * 1.25;
  const x = foot.right - textSize * 1.8;
  const y = foot.top + textSize * 1.45;
  const half = (side: 1 | -1): Shape =>
    path(
      pathData(
        [
          { x: 0, y: -size },
          { x: side * size * 0.5, y: size * 0.7 },
          { x: 0, y: size * 0.35 },
        ],
        true,
      ),
      side === 1 ? palette.ink : palette.paper,
      { colour: palette.ink, width: frame.line * 0.7 },
    );
  const radians = (turnDegrees * Math.PI) / 180;
  return [
    group([half(1), half(-1)], { name: 'north', place: { x, y, scale: 1, turnDegrees } }),
    {
      kind: 'text',
      x: x + Math.cos(radians) * size * 1.1,
      y: y + Math.sin(radians) * size * 1.1 + textSize * 0.36,
      size: textSize,
      text: words.north,
      anchor: 'middle',
      isBold: true,
      fill: palette.ink,
    },
  ];
}
