import type { ComponentProps, ReactNode, RefCallback } from 'react';
import { FoldedTable } from '../../shared/dataTable.tsx';
import { useWidth } from '../../shared/width.ts';
import { useWords } from '../../words/index.ts';

/** Wider than this nothing gets clearer; before the first measurement it is taken for so wide. CSS pixels. */
const WIDEST = 740;
const UNMEASURED = 620;
/** Where the lines of the scale begin; their words stand left of it. */
export const PLOT_LEFT = 52;

/** The room of a picture: drawn pixel for pixel, so that its letters are as large on a phone as on a desk. */
export interface PlotRoom {
  readonly ref: RefCallback<HTMLDivElement>;
  readonly width: number;
}

export function usePlotRoom(): PlotRoom {
  const [ref, width] = useWidth<HTMLDivElement>();
  return { ref, width: width === 0 ? UNMEASURED : Math.min(WIDEST, width) };
}

interface Props {
  readonly room: PlotRoom;
  readonly height: number;
  /** Lines across with their words. */
  readonly scale: readonly { readonly y: number; readonly text: string }[];
  readonly children: ReactNode;
  readonly table: ComponentProps<typeof FoldedTable>;
}

/** A picture of figures over its scale, and the same figures as a table. */
export function Plot({ room: { ref, width }, height, scale, children, table }: Props) {
  const w = useWords();
  return (
    <>
      <div ref={ref} className="plot-room">
        <svg
          className="plot"
          viewBox={`0 0 ${width} ${height}`}
          width={width}
          height={height}
          role="img"
          aria-label={w.desk.book.plot(table.label)}
        >
          {scale.map(({ y, text }) => (
            <g key={y}>
              <line className="plot-grid" x1={PLOT_LEFT} x2={width} y1={y} y2={y} />
              <text x={PLOT_LEFT - 6} y={y + 5} textAnchor="end">
                {text}
              </text>
            </g>
          ))}
          {children}
        </svg>
      </div>
      <FoldedTable {...table} />
    </>
  );
}
