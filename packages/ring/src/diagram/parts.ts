import type { Gate, Point } from '../site/model.ts';
import type { Frame } from './frame.ts';
import type { MarkPart } from './marks.ts';
import { element } from './svg.ts';
import type { Palette } from './view.ts';

/** What every drawing function needs. */
export interface Pen {
  readonly frame: Frame;
  readonly palette: Palette;
  /** `url(#...)` of the named pattern */
  readonly fill: (pattern: PatternName) => string;
}

/** Half the width that a station's mark takes; the next one stands in a ring. */
export function markRadius(frame: Frame, isNext: boolean): number {
  return isNext ? frame.markSize * 0.72 + frame.line : frame.markSize / 2;
}

export function gateRadius(frame: Frame, gate: Gate): number {
  return Math.max((gate.widthMetres * frame.unitsPerMetre) / 2, frame.line * 3);
}

/** A mark from its parts, its middle at `at`, `size` wide. */
export function drawMark(
  parts: readonly MarkPart[],
  at: Point,
  size: number,
  colour: string,
  paper: string,
): string {
  const scale = size / 24;
  return element(
    'g',
    {
      transform: `translate(${(at.x - size / 2).toFixed(2)} ${(at.y - size / 2).toFixed(2)}) scale(${scale.toFixed(4)})`,
      'stroke-linecap': 'round',
      'stroke-linejoin': 'round',
    },
    ...parts.map(({ d, paint, width, dash }) => {
      const isInk = paint === 'ink';
      return element('path', {
        d,
        fill: isInk ? colour : paint === 'outlined' ? paper : 'none',
        stroke: isInk ? 'none' : paint === 'paper line' ? paper : colour,
        'stroke-width': isInk ? undefined : width,
        'stroke-dasharray': dash,
      });
    }),
  );
}

export const PATTERN_NAMES = ['hard', 'water', 'plant', 'wood', 'treated', 'utility'] as const;
export type PatternName = (typeof PATTERN_NAMES)[number];

/** Hatchings that tell the ground without colour, in the unit of the sheet. */
export function drawPatterns({ frame, palette }: Pen, idOf: (name: PatternName) => string): string {
  const cell = frame.textSize * 0.8;
  const thin = frame.line * 0.5;
  const pattern = (name: PatternName, ground: string, ink: string, d: string, dots = ''): string =>
    element(
      'pattern',
      { id: idOf(name), width: cell, height: cell, patternUnits: 'userSpaceOnUse' },
      element('rect', { width: cell, height: cell, fill: ground }),
      element('path', { d, fill: 'none', stroke: ink, 'stroke-width': thin }),
      dots,
    );
  const half = cell / 2;
  const dot = element('circle', { cx: half, cy: half, r: thin * 1.2, fill: palette.soft });
  return [
    pattern('hard', palette.hard, palette.soft, '', dot),
    pattern('water', palette.water, palette.walk, `M0 ${half}q${half / 2} ${-half / 2} ${half} 0t${half} 0`),
    pattern(
      'plant',
      palette.plant,
      palette.soft,
      `M${half} ${cell * 0.8}v${-cell * 0.5}M${cell * 0.3} ${cell * 0.4}l${cell * 0.2} ${cell * 0.3}l${cell * 0.2} ${-cell * 0.3}`,
    ),
    pattern('wood', palette.treated, palette.alarm, `M0 ${half * 0.6}h${cell}M0 ${half * 1.4}h${cell}`),
    pattern('treated', palette.treated, palette.soft, `M0 0L${cell} ${cell}M${cell} 0L0 ${cell}`),
    pattern('utility', palette.paper, palette.alarm, `M0 ${cell}L${cell} 0`),
  ].join('');
}
