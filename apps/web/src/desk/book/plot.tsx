import type { ComponentProps, ReactNode } from 'react';
import { FoldedTable } from '../../shared/dataTable.tsx';
import { useWords } from '../../words/index.ts';

/** User units; the picture is as wide as its column. */
export const PLOT_WIDTH = 620;
/** Where the lines of the scale begin; their words stand left of it. */
export const PLOT_LEFT = 44;

interface Props {
  readonly height: number;
  /** Lines across with their words. */
  readonly scale: readonly { readonly y: number; readonly text: string }[];
  readonly children: ReactNode;
  readonly table: ComponentProps<typeof FoldedTable>;
}

/** A picture of figures over its scale, and the same figures as a table. */
export function Plot({ height, scale, children, table }: Props) {
  const w = useWords();
  return (
    <>
      <svg
        className="plot"
        viewBox={`0 0 ${PLOT_WIDTH} ${height}`}
        role="img"
        aria-label={w.desk.book.plot(table.label)}
      >
        {scale.map(({ y, text }) => (
          <g key={y}>
            <line className="plot-grid" x1={PLOT_LEFT} x2={PLOT_WIDTH} y1={y} y2={y} />
            <text x={PLOT_LEFT - 6} y={y + 5} textAnchor="end">
              {text}
            </text>
          </g>
        ))}
        {children}
      </svg>
      <FoldedTable {...table} />
    </>
  );
}
