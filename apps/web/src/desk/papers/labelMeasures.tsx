import { Choice } from '../../shared/choice.tsx';
import { decimalFault } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { useWords, type Words } from '../../words/index.ts';
import { KINDS, MEASURES, type Measure, type OwnStock, readMeasure } from './labelStock.ts';

interface Props {
  readonly value: OwnStock;
  readonly onChange: (value: OwnStock) => void;
}

/** A box of labels that no name stands for: its measures, as they are on the packet or on a ruler. */
export function LabelMeasures({ value, onChange }: Props) {
  const w = useWords();
  const { papers: words } = w.desk;
  return (
    <fieldset className="label-measures">
      <legend>{words.ownStock}</legend>
      <p className="quiet">{words.ownLead}</p>
      <Choice
        legend={words.ownKind}
        options={KINDS}
        value={value.kind}
        onChoose={(kind) => onChange({ ...value, kind })}
        label={(kind) => words.ownKinds[kind]}
        compact
      />
      <div className="form-columns">
        {MEASURES[value.kind].map((measure) => {
          const typed = value.typed[measure] ?? '';
          return (
            <Field
              key={measure}
              label={words.measures[measure]}
              inputMode="decimal"
              value={typed}
              error={faultOf(measure, typed, w)}
              onChange={(event) =>
                onChange({ ...value, typed: { ...value.typed, [measure]: event.target.value } })
              }
            />
          );
        })}
      </div>
    </fieldset>
  );
}

function faultOf(measure: Measure, typed: string, w: Words): string | undefined {
  if (typed.trim() === '' || readMeasure(measure, typed) !== undefined) return undefined;
  const { measureWrong, countOfWrong } = w.desk.papers;
  return (
    decimalFault(typed, w, { most: 2000 }) ??
    (measure === 'columns' || measure === 'rows' ? countOfWrong : measureWrong)
  );
}
