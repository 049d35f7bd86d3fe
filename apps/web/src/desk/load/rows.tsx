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
      <RowTable label={title} heads={heads} rows={rows} />
    </section>
  );
}

type TableProps = Omit<Props, 'title'> & { readonly label: string };

/** The same table where something else says its title. */
export function RowTable({ label, heads, rows }: TableProps) {
  return (
    <DataTable
      label={label}
      heads={heads}
      rows={rows.map((cells) => ({ key: cells.join('|'), cells }))}
      named={false}
    />
  );
}
