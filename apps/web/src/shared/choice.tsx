import { useId } from 'react';

interface Props<T extends string> {
  readonly legend: string;
  readonly options: readonly T[];
  readonly value: T | null;
  readonly onChoose: (value: T) => void;
  readonly label: (option: T) => string;
  readonly hint?: (option: T) => string;
  readonly compact?: boolean;
}

/** One answer out of a few, each as large as a gloved thumb. Real radio buttons, so keys and readers know what to do. */
export function Choice<T extends string>({
  legend,
  options,
  value,
  onChoose,
  label,
  hint,
  compact,
}: Props<T>) {
  const name = useId();
  return (
    <fieldset className="choice">
      <legend>{legend}</legend>
      <div
        className={compact === true ? 'choice-row choice-compact' : 'choice-row'}
        data-options={options.length}
      >
        {options.map((option) => {
          const said = hint?.(option) ?? '';
          return (
            <label key={option} className="choice-option">
              <input
                type="radio"
                name={name}
                value={option}
                checked={value === option}
                onChange={() => onChoose(option)}
              />
              <span className="choice-face">
                <span>{label(option)}</span>
                {said !== '' && <span className="choice-hint">{said}</span>}
              </span>
            </label>
          );
        })}
      </div>
    </fieldset>
  );
}
