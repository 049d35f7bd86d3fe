import { useId } from 'react';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import {
  CHOICE_FIELDS,
  CHOICES,
  type SourcedDraft,
  type SourcedField,
  WINDOW_FIELDS,
} from './profileFields.ts';

interface Props {
  readonly field: SourcedField;
  readonly draft: SourcedDraft;
  readonly problem: string | undefined;
  readonly onChange: (draft: SourcedDraft) => void;
}

/** One number of the profile (or window, or choice), with the place it was taken from. */
export function SourcedBoxes({ field, draft, problem, onChange }: Props) {
  const w = useWords();
  const id = useId();
  const box = (index: number, value: string) =>
    onChange({ ...draft, boxes: draft.boxes.map((old, at) => (at === index ? value : old)) });
  return (
    <fieldset className={draft.invented ? 'sheet sourced sourced-invented' : 'sheet sourced'}>
      <legend>{w.desk.profiles.fields[field]}</legend>
      <p className="quiet small" id={`${id}-hint`}>
        {w.desk.profiles.hints[field]}
      </p>
      <Boxes field={field} boxes={draft.boxes} onChange={box} hint={`${id}-hint`} />
      <div className="form-columns">
        <Field
          label={w.desk.profiles.source}
          hint={w.desk.profiles.sourceHint}
          value={draft.source}
          onChange={(event) => onChange({ ...draft, source: event.target.value })}
        />
        <label className="check">
          <input
            type="checkbox"
            checked={draft.invented}
            onChange={(event) => onChange({ ...draft, invented: event.target.checked })}
          />
          {w.desk.profiles.inventedMark}
        </label>
      </div>
      {problem !== undefined && <p className="field-error">{problem}</p>}
    </fieldset>
  );
}

interface BoxesProps {
  readonly field: SourcedField;
  readonly boxes: readonly string[];
  readonly hint: string;
  readonly onChange: (index: number, value: string) => void;
}

function Boxes({ field, boxes, hint, onChange }: BoxesProps) {
  const w = useWords();
  const choice = CHOICES.find((one) => one === field);
  if (choice !== undefined)
    return (
      <Select
        label={w.desk.profiles.answer}
        value={boxes[0] ?? ''}
        options={[
          ['', ''],
          ...CHOICE_FIELDS[choice].map((value) => [value, w.desk.profiles.choices[value]] as const),
        ]}
        onPick={(value) => onChange(0, value)}
      />
    );
  const isWindow = WINDOW_FIELDS.some((one) => one === field);
  const labels = isWindow
    ? [w.window.earliest, w.window.target, w.window.latest].flatMap((end) => [
        w.desk.profiles.months(end),
        w.desk.profiles.days(end),
      ])
    : field === 'setbackMetres'
      ? [w.desk.profiles.nearest, w.desk.profiles.farthest]
      : [w.desk.profiles.answer];
  return (
    <div className={isWindow ? 'window-boxes' : 'form-columns'}>
      {boxes.map((value, index) => (
        <Field
          // The boxes of a field never change their number or order.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={index}
          label={labels[index] ?? ''}
          value={value}
          inputMode={isWindow ? 'numeric' : 'text'}
          aria-describedby={hint}
          onChange={(event) => onChange(index, event.target.value)}
        />
      ))}
    </div>
  );
}
