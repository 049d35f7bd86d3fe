import { useId } from 'react';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly question: string;
  readonly usual: readonly string[];
  readonly value: string;
  readonly onChange: (why: string) => void;
  readonly error?: string | undefined;
}

/** A reason: the usual ones to tap, or one's own words. */
export function Why({ question, usual, value, onChange, error }: Props) {
  const w = useWords();
  const id = useId();
  return (
    <fieldset className="why-field">
      <legend>{question}</legend>
      <div className="ask-answers ask-chips">
        {usual.map((why) => (
          <button
            key={why}
            type="button"
            className="answer-button"
            aria-pressed={value === why}
            onClick={() => onChange(why)}
          >
            {why}
          </button>
        ))}
      </div>
      <div className="field">
        <label htmlFor={id}>{w.field.station.whyOwn}</label>
        <textarea
          id={id}
          rows={2}
          value={value}
          aria-invalid={error !== undefined}
          {...(error === undefined ? {} : { 'aria-describedby': `${id}-error` })}
          onChange={(event) => onChange(event.target.value)}
        />
        {error !== undefined && (
          <p className="field-error" id={`${id}-error`}>
            {error}
          </p>
        )}
      </div>
    </fieldset>
  );
}
