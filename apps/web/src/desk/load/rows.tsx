import { DataTable } from '../../shared/dataTable.tsx';

interface Props {
  readonly title: string;
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A titled table that is reached by keys where it must scroll. */
export function Rows({ title, heads, rows }: Props) {
  return (
    <section className="sheet load-rows">
      <h2>{title}</h2>
      <DataTable
        label={title}
        heads={heads}
        rows={rows.map((cells) => ({ key: cells.join('|'), cells }))}
        named={false}
      />
    </section>
  );
}
