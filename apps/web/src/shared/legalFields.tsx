import { useWords } from '../words/index.ts';
import { Field } from './field.tsx';
import { LEGAL, type Legal, wrongWith } from './legal.ts';

interface Props {
  readonly legal: Legal;
  readonly onChange: (legal: Legal) => void;
  /** True once recording was tried: what is missing is said. */
  readonly tried: boolean;
}

/** The fields of a pesticide use record. */
export function LegalFields({ legal, onChange, tried }: Props) {
  const w = useWords();
  return (
    <>
      {LEGAL.map((name) => (
        <Field
          key={name}
          label={w.record[name]}
          required
          inputMode={name === 'grams' ? 'decimal' : 'text'}
          value={legal[name]}
          error={tried ? wrongWith(name, legal, w) : undefined}
          onChange={(event) => onChange({ ...legal, [name]: event.target.value })}
        />
      ))}
      <Field
        label={w.record.supervised}
        hint={w.record.supervisedHint}
        value={legal.supervised}
        onChange={(event) => onChange({ ...legal, supervised: event.target.value })}
      />
    </>
  );
}
