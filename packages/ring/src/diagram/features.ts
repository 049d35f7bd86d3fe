import type { KeepOut, Outline, Point, Site } from '../site/model.ts';
import { CONCERN_PARTS, DRAIN_PARTS, type MarkPart, STATION_MARK_PARTS, WELL_PARTS } from './marks.ts';
import { drawMark, gateRadius, type PatternName, type Pen } from './parts.ts';
import { element, escapeText, pathData } from './svg.ts';
import type { DiagramWords, SiteView } from './view.ts';

/** Everything that stands or lies on the site, from the ground up; labels come after. */
export function drawFeatures(site: Site, view: SiteView, pen: Pen, words: DiagramWords): string {
  return [
    group('ground', drawGround(site, pen, words)),
    group('keep-outs', drawKeepOuts(site, pen, words)),
    group('structures', site.structures.map((structure) => drawStructure(structure, pen, words)).join('')),
    group('fences', drawFences(site, pen, words)),
    group('unguarded', (view.unguarded ?? []).map((wall) => drawUnguarded(wall, pen, words)).join('')),
    view.walk === undefined ? '' : group('walk', drawWalk(view.walk, pen, words)),
    group('concerns', drawConcerns(site, pen, words)),
    group('stations', drawStations(site, view, pen, words)),
  ].join('');
}

function group(name: string, content: string): string {
  return content === '' ? '' : element('g', { class: name }, content);
}

function titled(words: string): string {
  return element('title', {}, escapeText(words));
}

function drawGround(site: Site, pen: Pen, words: DiagramWords): string {
  const plantings = site.plantings.map(({ kind, outline }) =>
    drawArea(outline, kind === 'planting' ? 'plant' : 'wood', words.plantings[kind], pen),
  );
  const surfaces = site.hardSurfaces.map(({ kind, outline }) =>
    drawArea(outline, kind === 'pool' ? 'water' : 'hard', words.surfaces[kind], pen),
  );
  return [...plantings, ...surfaces].join('');
}

function drawArea(
  outline: Outline,
  pattern: PatternName,
  name: string,
  { frame, palette, fill }: Pen,
): string {
  return element(
    'path',
    {
      d: pathData(outline.map(frame.toSheet), true),
      fill: fill(pattern),
      stroke: palette.soft,
      'stroke-width': frame.line * 0.6,
    },
    titled(name),
  );
}

function drawKeepOuts(site: Site, pen: Pen, words: DiagramWords): string {
  return site.keepOuts.map((keepOut) => drawKeepOut(keepOut, pen, words)).join('');
}

function drawKeepOut(keepOut: KeepOut, pen: Pen, words: DiagramWords): string {
  const { frame, palette, fill } = pen;
  switch (keepOut.kind) {
    case 'treated_soil':
      return drawArea(keepOut.outline, 'treated', words.treatedSoil, pen);
    case 'utility_line': {
      const d = pathData(keepOut.path.map(frame.toSheet), false);
      const band = Math.max(keepOut.clearanceMetres * 2 * frame.unitsPerMetre, frame.line * 2);
      return element(
        'g',
        { fill: 'none', 'stroke-linejoin': 'round' },
        titled(words.utilityLine),
        element('path', { d, stroke: fill('utility'), 'stroke-width': band }),
        element('path', {
          d,
          stroke: palette.alarm,
          'stroke-width': frame.line,
          'stroke-dasharray': `${frame.line * 7} ${frame.line * 2} ${frame.line} ${frame.line * 2}`,
        }),
      );
    }
    case 'well':
    case 'drain': {
      const at = frame.toSheet(keepOut.at);
      const reach = keepOut.clearanceMetres * frame.unitsPerMetre;
      return element(
        'g',
        {},
        titled(words[keepOut.kind]),
        element('circle', { cx: at.x, cy: at.y, r: reach, fill: fill('utility'), stroke: 'none' }),
        drawMark(
          keepOut.kind === 'well' ? WELL_PARTS : DRAIN_PARTS,
          at,
          frame.markSize,
          palette.ink,
          palette.paper,
        ),
      );
    }
  }
}

function drawStructure(
  structure: Site['structures'][number],
  { frame, palette }: Pen,
  words: DiagramWords,
): string {
  const rings = [structure.outline, ...structure.holes];
  return element(
    'path',
    {
      d: rings.map((ring) => pathData(ring.map(frame.toSheet), true)).join(''),
      'fill-rule': 'evenodd',
      fill: palette.building,
      stroke: palette.ink,
      'stroke-width': frame.line * 1.4,
      'stroke-linejoin': 'miter',
    },
    titled(
      [structure.name, words.foundations[structure.foundation]].filter((part) => part !== '').join(', '),
    ),
  );
}

function drawFences(site: Site, { frame, palette }: Pen, words: DiagramWords): string {
  const fences = site.fences.map((fence) => {
    const d = pathData(fence.path.map(frame.toSheet), false);
    return element(
      'g',
      { fill: 'none', stroke: palette.ink },
      titled(words.fence),
      element('path', { d, 'stroke-width': frame.line * 0.7 }),
      // Short posts across the line: a wide dash of almost no length.
      element('path', {
        d,
        'stroke-width': frame.line * 4,
        'stroke-dasharray': `${frame.line * 0.7} ${frame.line * 7}`,
      }),
    );
  });
  const gates = site.gates.map((gate) => {
    const at = frame.toSheet(gate.at);
    return element(
      'circle',
      {
        cx: at.x,
        cy: at.y,
        r: gateRadius(frame, gate),
        fill: palette.paper,
        stroke: palette.ink,
        'stroke-width': frame.line,
      },
      titled(words.gate),
    );
  });
  return [...fences, ...gates].join('');
}

/** A thick toothed line on the wall: seen without colour. */
function drawUnguarded(wall: readonly Point[], { frame, palette }: Pen, words: DiagramWords): string {
  const d = pathData(wall.map(frame.toSheet), false);
  return element(
    'g',
    { fill: 'none', stroke: palette.alarm },
    titled(words.unguarded),
    element('path', { d, 'stroke-width': frame.line * 2.4 }),
    element('path', {
      d,
      'stroke-width': frame.line * 6,
      'stroke-dasharray': `${frame.line * 1.2} ${frame.line * 2.4}`,
    }),
  );
}

function drawWalk(walk: readonly Point[], { frame, palette }: Pen, words: DiagramWords): string {
  const points = walk.map(frame.toSheet);
  const size = frame.textSize * 0.4;
  let sinceArrow = Number.POSITIVE_INFINITY;
  const arrows = points.flatMap((b, index) => {
    const a = points[index - 1];
    if (a === undefined) return [];
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    sinceArrow += length;
    // Enough to see the way, not so many that they hide the stations.
    if (length < size * 2.5 || sinceArrow < frame.textSize * 4) return [];
    sinceArrow = 0;
    const x = (b.x - a.x) / length;
    const y = (b.y - a.y) / length;
    const tip = { x: (a.x + b.x) / 2 + x * size, y: (a.y + b.y) / 2 + y * size };
    const side = (sign: number): Point => ({
      x: tip.x - x * size * 1.5 + sign * y * size * 0.7,
      y: tip.y - y * size * 1.5 - sign * x * size * 0.7,
    });
    return [pathData([side(1), tip, side(-1)], true)];
  });
  return [
    titled(words.walk),
    element('path', {
      d: pathData(points, false),
      fill: 'none',
      stroke: palette.walk,
      'stroke-width': frame.line,
      'stroke-dasharray': `${frame.line * 4} ${frame.line * 3}`,
    }),
    element('path', { d: arrows.join(''), fill: palette.walk }),
  ].join('');
}

function drawConcerns(site: Site, { frame, palette }: Pen, words: DiagramWords): string {
  return site.concerns
    .map((concern) =>
      element(
        'g',
        {},
        titled(words.concerns[concern.kind]),
        drawMark(CONCERN_PARTS, frame.toSheet(concern.at), frame.markSize, palette.ink, palette.paper),
      ),
    )
    .join('');
}

function drawStations(site: Site, view: SiteView, { frame, palette }: Pen, words: DiagramWords): string {
  return site.stations
    .map((station) => {
      const mark = view.marks.get(station.id) ?? 'monitoring';
      const at = frame.toSheet(station.at);
      const parts: readonly MarkPart[] = STATION_MARK_PARTS[mark];
      const isNext = station.id === view.nextStationId;
      return element(
        'g',
        {
          class: `station ${mark.replaceAll(' ', '-')}`,
          'data-station': station.id,
          'data-number': station.number,
        },
        titled(`${words.station} ${station.number}: ${words.marks[mark]}`),
        isNext
          ? element('circle', {
              cx: at.x,
              cy: at.y,
              r: frame.markSize * 0.72,
              fill: palette.paper,
              stroke: palette.ink,
              'stroke-width': frame.line * 1.8,
            })
          : '',
        drawMark(parts, at, frame.markSize, palette.marks[mark], palette.paper),
      );
    })
    .join('');
}
