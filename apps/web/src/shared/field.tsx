import { type InputHTMLAttributes, useId } from 'react';

interface Props extends InputHTMLAttributes<HTMLInputElement> {
  readonly label: string;
  readonly hint?: string;
  readonly error?: string | undefined;
}

/** A labelled line of input; hint and error are tied to it for screen readers. */
export function Field({ label, hint, error, ...input }: Props) {
  const id = useId();
  const described = [hint === undefined ? '' : `${id}-hint`, error === undefined ? '' : `${id}-error`]
    .filter((part) => part !== '')
    .join(' ');
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {hint !== undefined && (
        <p className="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <input
        id={id}
        {...input}
        aria-invalid={error !== undefined}
        {...(described === '' ? {} : { 'aria-describedby': described })}
      />
      {error !== undefined && (
        <p className="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </div>
  );
}
