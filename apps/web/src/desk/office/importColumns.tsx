import { useBranches, useTrade } from '../../api/queries.ts';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import type { ImportAnswer, Mapping } from './importPage.tsx';

interface Props {
  readonly columns: ImportAnswer['columns'];
  readonly mapping: Mapping;
  readonly onChange: (mapping: Mapping) => void;
}

/** Each column with what it was taken for, an example of what stands in it, and the choice to say otherwise. */
export function ImportColumns({ columns, mapping, onChange }: Props) {
  const w = useWords();
  const options = [['', w.desk.imports.leaveOut] as const, ...Object.entries(w.desk.imports.fields)];
  const change = (file: string, sheet: string, column: string, field: string): void =>
    onChange({
      ...mapping,
      sheets: mapping.sheets.map((one) => {
        if (one.file !== file || one.sheet !== sheet) return one;
        const { [column]: _, ...others } = one.columns;
        return { ...one, columns: field === '' ? others : { ...others, [column]: field } };
      }),
    });
  return (
    <section className="sheet">
      <h2>{w.desk.imports.columns}</h2>
      <ul className="import-columns">
        {columns.map(({ file, sheet, column, sample, confidence }) => {
          const known = mapping.sheets.find((one) => one.file === file && one.sheet === sheet)?.columns[
            column
          ];
          return (
            <li key={`${file} ${sheet} ${column}`}>
              <Select
                label={column === '' ? w.desk.imports.noHeader : column}
                hint={sample === '' ? w.desk.imports.empty : w.desk.imports.sample(sample)}
                value={known ?? ''}
                options={options}
                onPick={(field) => change(file, sheet, column, field)}
              />
              {known !== undefined && confidence > 0 && confidence < 0.75 && (
                <p className="owed-open small">{w.desk.imports.unsure}</p>
              )}
            </li>
          );
        })}
      </ul>
      <Defaults mapping={mapping} onChange={onChange} />
    </section>
  );
}

/** What holds for every row where no column says it; and how dates are written. */
function Defaults({ mapping, onChange }: Pick<Props, 'mapping' | 'onChange'>) {
  const w = useWords();
  const branches = useBranches();
  const trade = useTrade();
  const mapped = new Set(mapping.sheets.flatMap(({ columns }) => Object.values(columns)));
  const choices = {
    branch: (branches.data?.branches ?? []).map(({ branch, name }) => [branch, name] as const),
    profile: [...(trade.data?.profiles.values() ?? [])].map(({ id, name }) => [id, name] as const),
    model: [...(trade.data?.models.values() ?? [])].map(({ id, name }) => [id, name] as const),
    timeZone: Intl.supportedValuesOf('timeZone').map((zone) => [zone, zone] as const),
  };
  const fields = (['branch', 'profile', 'model', 'timeZone'] as const).filter((field) => !mapped.has(field));
  return (
    <>
      <h3>{w.desk.imports.forAll}</h3>
      <div className="form-columns">
        {fields.map((field) => (
          <Select
            key={field}
            label={w.desk.imports.fields[field]}
            value={mapping.defaults[field] ?? ''}
            options={[['', w.desk.imports.notSaid], ...choices[field]]}
            onPick={(value) => onChange({ ...mapping, defaults: { ...mapping.defaults, [field]: value } })}
          />
        ))}
        <Select
          label={w.desk.imports.dateOrder}
          value={mapping.dateOrder}
          options={Object.entries(w.desk.imports.dateOrders)}
          onPick={(dateOrder) => onChange({ ...mapping, dateOrder })}
        />
      </div>
    </>
  );
}
