import { type Palette, type Shape, type SiteDrawing, type Stroke, transformOf } from '@sillwatch/ring';
import { MARK_COLOURS } from '../marks/stationMark.tsx';

/** The screen's own colours, so that the drawing follows the theme; told apart by shape and hatching all the same. */
export const SCREEN_PALETTE: Palette = {
  paper: 'var(--well)',
  ink: 'var(--ink)',
  soft: 'var(--ink-soft)',
  building: 'var(--sheet)',
  hard: 'var(--well)',
  water: 'var(--coming-soft)',
  plant: 'var(--accent-soft)',
  treated: 'var(--open-soft)',
  alarm: 'var(--late)',
  walk: 'var(--focus)',
  marks: MARK_COLOURS,
};

interface Props {
  readonly drawing: SiteDrawing;
  /** Unlike that of any other drawing on the page. */
  readonly id: string;
}

/** The shapes of the drawing, for an `svg` of its width and height: the same that print and files show. */
export function SiteShapes({ drawing, id }: Props) {
  return (
    <>
      <rect width={drawing.width} height={drawing.height} fill={drawing.paper} />
      <Shapes shapes={drawing.shapes} id={id} />
    </>
  );
}

/** Some of the shapes of a drawing, over what is there. */
export function Shapes({ shapes, id }: { readonly shapes: readonly Shape[]; readonly id: string }) {
  return shapes.map((shape, index) => {
    const own = `${id}-${index}`;
    return <OneShape key={own} shape={shape} id={own} />;
  });
}

function OneShape({ shape, id }: { readonly shape: Shape; readonly id: string }) {
  switch (shape.kind) {
    case 'group': {
      const { clip, place, name, title, shapes } = shape;
      return (
        <>
          {clip !== undefined && (
            <clipPath id={id}>
              <rect
                x={clip.left}
                y={clip.top}
                width={clip.right - clip.left}
                height={clip.bottom - clip.top}
              />
            </clipPath>
          )}
          <g
            {...(name === undefined ? {} : { className: `drawn-${name}` })}
            {...(clip === undefined ? {} : { clipPath: `url(#${id})` })}
            {...(place === undefined ? {} : { transform: transformOf(place) })}
          >
            {title !== undefined && <title>{title}</title>}
            <Shapes shapes={shapes} id={id} />
          </g>
        </>
      );
    }
    case 'path':
      return (
        <path
          d={shape.d}
          fill={shape.fill ?? 'none'}
          {...(shape.isEvenOdd === true ? { fillRule: 'evenodd' as const } : {})}
          {...strokeOf(shape.stroke)}
        />
      );
    case 'hatch':
      return (
        <>
          <clipPath id={id}>
            <path d={shape.region} />
          </clipPath>
          <g clipPath={`url(#${id})`}>
            <path d={shape.region} fill={shape.ground} />
            <path d={shape.marks.d} fill={shape.marks.fill ?? 'none'} {...strokeOf(shape.marks.stroke)} />
          </g>
          {shape.outline !== null && <path d={shape.region} fill="none" {...strokeOf(shape.outline)} />}
        </>
      );
    case 'text':
      return (
        <text
          x={shape.x}
          y={shape.y}
          fontSize={shape.size}
          fill={shape.fill}
          textAnchor={shape.anchor}
          {...(shape.isBold === true ? { fontWeight: 700 } : {})}
          {...(shape.isItalic === true ? { fontStyle: 'italic' } : {})}
          {...(shape.halo === undefined
            ? {}
            : {
                paintOrder: 'stroke',
                stroke: shape.halo.colour,
                strokeWidth: shape.halo.width,
                strokeLinejoin: 'round' as const,
              })}
        >
          {shape.text}
        </text>
      );
  }
}

function strokeOf(stroke: Stroke | null) {
  if (stroke === null) return {};
  const { colour, width, dash, isRound } = stroke;
  return {
    stroke: colour,
    strokeWidth: width,
    ...(dash === undefined ? {} : { strokeDasharray: dash.join(' ') }),
    ...(isRound === true ? { strokeLinecap: 'round' as const, strokeLinejoin: 'round' as const } : {}),
  };
}
