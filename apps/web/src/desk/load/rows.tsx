import { TableRoom } from '../../shared/tableRoom.tsx';

interface Props {
  readonly title: string;
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A titled table that is reached by keys where it must scroll. */
export function Rows({ title, heads, rows }: Props) {
  return (
    <section className="sheet">
      <h2>{title}</h2>
      <TableRoom label={title}>
        <table>
          <thead>
            <tr>
              {heads.map((head) => (
                <th key={head} scope="col" style={{ overflowWrap: 'normal' }}>
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.join('|')}>
                {row.map((cell, at) => (
                  <td key={heads[at]}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </TableRoom>
    </section>
  );
}
