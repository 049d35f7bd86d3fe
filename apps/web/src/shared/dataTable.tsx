import type { ReactNode } from 'react';
import { useWords } from '../words/index.ts';
import { TableRoom } from './tableRoom.tsx';

/** Columns that a phone shows side by side. */
const NARROW = 3;

interface Props {
  readonly label: string;
  readonly heads: readonly string[];
  /** One cell for each head; `key` tells the rows apart. */
  readonly rows: readonly { readonly key: string | number; readonly cells: readonly ReactNode[] }[];
  /** The first cell of a row names it; default true. */
  readonly named?: boolean;
}

/** A table with a head over each column, in a room of its own. */
export function DataTable({ label, heads, rows, named = true }: Props) {
  return (
    <TableRoom label={label} isNarrow={heads.length <= NARROW}>
      <table>
        <thead>
          <tr>
            {heads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ key, cells }) => (
            <tr key={key}>
              {cells.map((cell, at) =>
                named && at === 0 ? (
                  <th key={heads[at]} scope="row">
                    {cell}
                  </th>
                ) : (
                  <td key={heads[at]}>{cell}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </TableRoom>
  );
}

/** What a picture shows, as a table to open. */
export function FoldedTable(table: Props) {
  const w = useWords();
  return (
    <details>
      <summary>{w.desk.time.table}</summary>
      <DataTable {...table} />
    </details>
  );
}
