import type { KeepOut, Outline, Path, Point, Site } from '../site/model.ts';
import { stepsOf } from '../site/plane.ts';
import type { Box } from './frame.ts';
import { hatch, type PatternName, type Region } from './hatch.ts';
import {
  CONCERN_PARTS,
  DRAIN_PARTS,
  PARKING_PARTS,
  STATION_MARK_PARTS,
  type StationMark,
  WELL_PARTS,
} from './marks.ts';
import { gateRadius, markRadius, markShapes, type Pen } from './parts.ts';
import { circlePath, pathData } from './pathData.ts';
import { type GroupShape, group, named, path, type Shape } from './shapes.ts';
import type { DiagramWords, SiteView } from './view.ts';

/** Everything that stands or lies on the site, from the ground up; labels come after. */
export function listFeatures(
  site: Site,
  view: SiteView,
  pen: Pen,
  words: DiagramWords,
): readonly GroupShape[] {
  return [
    ...named('ground', ground(site, pen, words)),
    ...named(
      'keep-outs',
      site.keepOuts.map((keepOut) => keepOutShapes(keepOut, pen, words)),
    ),
    ...named(
      'structures',
      site.structures.map((structure) => structureShapes(structure, pen, words)),
    ),
    ...named('fences', fences(site, pen, words)),
    ...named(
      'unguarded',
      (view.unguarded ?? []).map((wall) => unguarded(wall, pen, words)),
    ),
    ...(view.walk === undefined ? [] : named('walk', walk(view.walk, pen), words.walk)),
    ...named(
      'concerns',
      site.concerns.map(({ kind, at }) =>
        group([inkMark(CONCERN_PARTS, at, pen)], { title: words.concerns[kind] }),
      ),
    ),
    ...(site.parking === undefined
      ? []
      : named('parking', [inkMark(PARKING_PARTS, site.parking, pen)], words.parking)),
    ...named('stations', stations(site, view, pen, words)),
  ];
}

function inkMark(parts: typeof CONCERN_PARTS, at: Point, { frame, palette }: Pen): GroupShape {
  return markShapes(parts, frame.toSheet(at), frame.markSize, palette.ink, palette.paper);
}

function ground(site: Site, pen: Pen, words: DiagramWords): readonly Shape[] {
  return [
    ...site.plantings.map(({ kind, outline }) =>
      area(outline, kind === 'planting' ? 'plant' : 'wood', words.plantings[kind], pen),
    ),
    ...site.hardSurfaces.map(({ kind, outline }) =>
      area(outline, kind === 'pool' ? 'water' : 'hard', words.surfaces[kind], pen),
    ),
  ];
}

function area(outline: Outline, pattern: PatternName, title: string, pen: Pen): GroupShape {
  const { frame, palette } = pen;
  const points = outline.map(frame.toSheet);
  const region = { d: pathData(points, true), box: boxOf(points) };
  return group([hatch(region, pattern, pen, { colour: palette.soft, width: frame.line * 0.6 })], { title });
}

function boxOf(points: readonly Point[], around = 0): Box {
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  return {
    left: Math.min(...xs) - around,
    right: Math.max(...xs) + around,
    top: Math.min(...ys) - around,
    bottom: Math.max(...ys) + around,
  };
}

function keepOutShapes(keepOut: KeepOut, pen: Pen, words: DiagramWords): GroupShape {
  const { frame, palette } = pen;
  switch (keepOut.kind) {
    case 'treated_soil':
      return area(keepOut.outline, 'treated', words.treatedSoil, pen);
    case 'utility_line': {
      const points = keepOut.path.map(frame.toSheet);
      const half = Math.max(keepOut.clearanceMetres * frame.unitsPerMetre, frame.line);
      const { line } = frame;
      return group(
        [
          hatch(bandOf(points, half), 'utility', pen, null),
          path(pathData(points, false), null, {
            colour: palette.alarm,
            width: line,
            dash: [line * 7, line * 2, line, line * 2],
          }),
        ],
        { title: words.utilityLine },
      );
    }
    case 'well':
    case 'drain': {
      const at = frame.toSheet(keepOut.at);
      const reach = keepOut.clearanceMetres * frame.unitsPerMetre;
      return group(
        [
          hatch({ d: circlePath(at, reach), box: boxOf([at], reach) }, 'utility', pen, null),
          inkMark(keepOut.kind === 'well' ? WELL_PARTS : DRAIN_PARTS, keepOut.at, pen),
        ],
        { title: words[keepOut.kind] },
      );
    }
  }
}

/** All within `half` of the line, cut off square at its ends: one box a step and a disc at each bend, all clockwise. */
function bandOf(points: Path, half: number): Region {
  const boxes = stepsOf(points).flatMap(([a, b]) => {
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length === 0) return [];
    const x = (-(b.y - a.y) / length) * half;
    const y = ((b.x - a.x) / length) * half;
    return [
      pathData(
        [
          { x: a.x - x, y: a.y - y },
          { x: b.x - x, y: b.y - y },
          { x: b.x + x, y: b.y + y },
          { x: a.x + x, y: a.y + y },
        ],
        true,
      ),
    ];
  });
  const bends = points.slice(1, -1).map((bend) => circlePath(bend, half));
  return { d: [...boxes, ...bends].join(''), box: boxOf(points, half) };
}

function structureShapes(
  structure: Site['structures'][number],
  { frame, palette }: Pen,
  words: DiagramWords,
): GroupShape {
  const rings = [structure.outline, ...structure.holes];
  const d = rings.map((ring) => pathData(ring.map(frame.toSheet), true)).join('');
  return group(
    [path(d, palette.building, { colour: palette.ink, width: frame.line * 1.4 }, { isEvenOdd: true })],
    {
      title: [structure.name, words.foundations[structure.foundation]]
        .filter((part) => part !== '')
        .join(', '),
    },
  );
}

function fences(site: Site, { frame, palette }: Pen, words: DiagramWords): readonly Shape[] {
  const { line } = frame;
  const lines = site.fences.map((fence) => {
    const d = pathData(fence.path.map(frame.toSheet), false);
    return group(
      [
        path(d, null, { colour: palette.ink, width: line * 0.7 }),
        // Short posts across the line: a wide dash of almost no length.
        path(d, null, { colour: palette.ink, width: line * 4, dash: [line * 0.7, line * 7] }),
      ],
      { title: words.fence },
    );
  });
  const gates = site.gates.map((gate) =>
    group(
      [
        path(circlePath(frame.toSheet(gate.at), gateRadius(frame, gate)), palette.paper, {
          colour: palette.ink,
          width: line,
        }),
      ],
      { title: words.gate },
    ),
  );
  return [...lines, ...gates];
}

/** A thick toothed line on the wall: seen without colour. */
function unguarded(wall: readonly Point[], { frame, palette }: Pen, words: DiagramWords): GroupShape {
  const d = pathData(wall.map(frame.toSheet), false);
  const { line } = frame;
  return group(
    [
      path(d, null, { colour: palette.alarm, width: line * 2.4 }),
      path(d, null, { colour: palette.alarm, width: line * 6, dash: [line * 1.2, line * 2.4] }),
    ],
    { title: words.unguarded },
  );
}

function walk(way: readonly Point[], { frame, palette }: Pen): readonly Shape[] {
  const points = way.map(frame.toSheet);
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
    path(pathData(points, false), null, {
      colour: palette.walk,
      width: frame.line,
      dash: [frame.line * 4, frame.line * 3],
    }),
    path(arrows.join(''), palette.walk, null),
  ];
}

function stations(
  site: Site,
  view: SiteView,
  { frame, palette }: Pen,
  words: DiagramWords,
): readonly Shape[] {
  return site.stations.map((station) => {
    const mark = view.marks.get(station.id) ?? 'monitoring';
    const at = frame.toSheet(station.at);
    const isNext = station.id === view.nextStationId;
    const ring = path(circlePath(at, markRadius(frame, true) - frame.line), palette.paper, {
      colour: palette.ink,
      width: frame.line * 1.8,
    });
    return group(
      [
        ...(isNext ? [ring] : []),
        ...(isLineWork(mark) ? [path(circlePath(at, frame.markSize * 0.42), palette.paper, null)] : []),
        markShapes(STATION_MARK_PARTS[mark], at, frame.markSize, palette.marks[mark], palette.paper),
      ],
      {
        name: 'station',
        station: { id: station.id, number: station.number, mark },
        title: `${words.station} ${station.number}: ${words.marks[mark]}`,
      },
    );
  });
}

/** Lines alone would be lost on a fence or wall: they stand on a disc of paper. */
function isLineWork(mark: StationMark): boolean {
  return STATION_MARK_PARTS[mark].every(({ paint }) => paint === 'ink line');
}
