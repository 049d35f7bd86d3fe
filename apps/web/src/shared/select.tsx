import { useId } from 'react';

interface Props {
  readonly label: string;
  readonly value: string;
  /** value and words of each */
  readonly options: readonly (readonly [string, string])[];
  readonly onPick: (value: string) => void;
  readonly hint?: string;
}

/** A labelled choice out of many. */
export function Select({ label, value, options, onPick, hint }: Props) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {hint !== undefined && (
        <p className="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <select
        id={id}
        value={value}
        onChange={(event) => onPick(event.target.value)}
        {...(hint === undefined ? {} : { 'aria-describedby': `${id}-hint` })}
      >
        {options.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}
