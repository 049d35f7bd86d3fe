import { findThing, type Point, type Ring, ringsOf, type SiteDrawing, type Snapped } from '@sillwatch/ring';
import { metresToSheet } from '../../shared/siteSheet.ts';
import { useWords } from '../../words/index.ts';
import { shapeOf } from './model/brush.ts';
import { lengthText } from './model/names.ts';
import type { Editor } from './useEditor.ts';

/** A station that is proposed and not on the drawing. */
export interface Ghost {
  readonly id: string;
  readonly label: string;
  readonly at: Point;
  readonly isChosen: boolean;
}

interface Props {
  readonly editor: Editor;
  readonly drawing: SiteDrawing;
  readonly hover: Snapped | null;
  readonly ghosts: readonly Ghost[];
  readonly wrongAt: readonly Point[];
}

/** What lies over the drawing while one works on it: handles, the pen, guides, proposals and places at fault. */
export function Overlay({ editor, drawing, hover, ghosts, wrongAt }: Props) {
  const { site, selection, brush, pen, unit } = editor;
  const toSheet = (at: Point) => metresToSheet(drawing, at);
  const thing = selection === null ? undefined : findThing(site, selection.id);
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of shapes takes no focus; the picture does
    <g aria-hidden="true" className="draw-over">
      {wrongAt.map((at) => {
        const { x, y } = toSheet(at);
        return <circle key={`${at.x} ${at.y}`} cx={x} cy={y} r={16} className="draw-wrong" />;
      })}
      {ghosts.map(({ id, label, at, isChosen }) => {
        const { x, y } = toSheet(at);
        return (
          <g key={id} className={isChosen ? 'draw-ghost draw-ghost-on' : 'draw-ghost'}>
            <circle cx={x} cy={y} r={11} />
            <text x={x} y={y + 4.5} textAnchor="middle">
              {label}
            </text>
          </g>
        );
      })}
      {thing !== undefined &&
        brush === null &&
        ringsOf(thing).map((ring, number) => (
          <Handles
            key={`${thing.value.id} ${String(number)}`}
            ring={ring}
            toSheet={toSheet}
            active={selection?.corner?.ring === number ? selection.corner.index : null}
          />
        ))}
      {hover !== null && <Guides hover={hover} drawing={drawing} />}
      {brush !== null && shapeOf(brush) !== 'place' && (
        <PenLine corners={pen.corners} hover={hover?.at} toSheet={toSheet} unit={unit} />
      )}
      {hover !== null && <HoverWords hover={hover} editor={editor} drawing={drawing} unit={unit} />}
    </g>
  );
}

interface HandlesProps {
  readonly ring: Ring;
  readonly toSheet: (at: Point) => Point;
  readonly active: number | null;
}

function Handles({ ring: { points, isClosed }, toSheet, active }: HandlesProps) {
  const places = points.map(toSheet);
  const line = places.map(({ x, y }) => `${x} ${y}`).join('L');
  const walls = isClosed ? places.length : places.length - 1;
  return (
    <>
      {places.length > 1 && <path d={`M${line}${isClosed ? 'Z' : ''}`} className="draw-chosen" />}
      {places.slice(0, walls).map((from, index) => {
        const to = places[(index + 1) % places.length] ?? from;
        if (Math.hypot(to.x - from.x, to.y - from.y) < 44) return null;
        const x = (from.x + to.x) / 2;
        const y = (from.y + to.y) / 2;
        const key = `m${String(index)}`;
        return <path key={key} d={`M${x - 5} ${y}h10M${x} ${y - 5}v10`} className="draw-middle" />;
      })}
      {places.map(({ x, y }, index) => {
        const key = `c${String(index)}`;
        const isPlace = places.length === 1;
        const shown = index === active ? 'draw-handle draw-handle-on' : 'draw-handle';
        return isPlace ? (
          <circle key={key} cx={x} cy={y} r={16} className="draw-chosen" />
        ) : (
          <circle key={key} cx={x} cy={y} r={index === active ? 8 : 6} className={shown} />
        );
      })}
    </>
  );
}

function Guides({ hover, drawing }: { readonly hover: Snapped; readonly drawing: SiteDrawing }) {
  return hover.guides.map(({ through, azimuthDegrees, kind }) => {
    const far = {
      x: Math.sin((azimuthDegrees * Math.PI) / 180),
      y: Math.cos((azimuthDegrees * Math.PI) / 180),
    };
    const from = metresToSheet(drawing, through);
    const end = metresToSheet(drawing, { x: through.x + far.x, y: through.y + far.y });
    const long = (drawing.width + drawing.height) / Math.hypot(end.x - from.x, end.y - from.y);
    const dx = (end.x - from.x) * long;
    const dy = (end.y - from.y) * long;
    return (
      <path
        key={`${kind} ${through.x} ${through.y} ${azimuthDegrees}`}
        d={`M${from.x - dx} ${from.y - dy}L${from.x + dx} ${from.y + dy}`}
        className="draw-guide"
      />
    );
  });
}

interface PenLineProps {
  readonly corners: readonly Point[];
  readonly hover: Point | undefined;
  readonly toSheet: (at: Point) => Point;
  readonly unit: 'ft' | 'm';
}

function PenLine({ corners, hover, toSheet, unit }: PenLineProps) {
  const places = corners.map(toSheet);
  const line = places.map(({ x, y }) => `${x} ${y}`).join('L');
  const last = places.at(-1);
  const next = hover === undefined ? undefined : toSheet(hover);
  return (
    <>
      {places.length > 1 && <path d={`M${line}`} className="draw-pen" />}
      {last !== undefined && next !== undefined && (
        <path d={`M${last.x} ${last.y}L${next.x} ${next.y}`} className="draw-pen draw-pen-next" />
      )}
      {corners.slice(1).map((to, index) => {
        const from = corners[index] ?? to;
        const a = toSheet(from);
        const b = toSheet(to);
        const key = `l${String(index)}`;
        return (
          <text
            key={key}
            x={(a.x + b.x) / 2}
            y={(a.y + b.y) / 2 - 7}
            textAnchor="middle"
            className="draw-said draw-length"
          >
            {lengthText(Math.hypot(to.x - from.x, to.y - from.y), unit)}
          </text>
        );
      })}
      {places.map(({ x, y }, index) => {
        const key = String(index);
        return (
          <circle
            key={key}
            cx={x}
            cy={y}
            r={index === 0 ? 8 : 5}
            className={index === 0 ? 'draw-first' : 'draw-handle'}
          />
        );
      })}
      {next !== undefined && <circle cx={next.x} cy={next.y} r={5} className="draw-next" />}
    </>
  );
}

interface HoverWordsProps {
  readonly hover: Snapped;
  readonly editor: Editor;
  readonly drawing: SiteDrawing;
  readonly unit: 'ft' | 'm';
}

/** The length under the hand and what it was drawn to. */
function HoverWords({ hover, editor, drawing, unit }: HoverWordsProps) {
  const w = useWords();
  const { x, y } = metresToSheet(drawing, hover.at);
  const last = editor.brush === null ? undefined : editor.pen.corners.at(-1);
  const length = last === undefined ? 0 : Math.hypot(hover.at.x - last.x, hover.at.y - last.y);
  const said = [
    ...(length > 0 ? [lengthText(length, unit)] : []),
    ...[...new Set(hover.to)].slice(0, 2).map((kind) => w.desk.drawing.snapped[kind]),
  ].join(' · ');
  if (said === '') return null;
  const isRight = x > drawing.width * 0.6;
  return (
    <text
      x={isRight ? x - 14 : x + 14}
      y={y < 40 ? y + 26 : y - 14}
      textAnchor={isRight ? 'end' : 'start'}
      className="draw-said"
    >
      {said}
    </text>
  );
}
