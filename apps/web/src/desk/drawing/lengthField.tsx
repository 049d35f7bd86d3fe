import { type LengthUnit, parseLength } from '@sillwatch/ring';
import { useState } from 'react';
import { Field } from '../../shared/field.tsx';
import { useWords } from '../../words/index.ts';
import { exactLengthText } from './model/names.ts';

interface Props {
  readonly label: string;
  readonly hint?: string;
  /** metres; null = nothing typed yet */
  readonly value: number | null;
  readonly unit: LengthUnit;
  readonly onCommit: (lengthMetres: number) => void;
}

/** A length as people write it, taken over with Enter or when one leaves the field; what cannot be read stays, with the reason. */
export function LengthField({ label, hint, value, unit, onCommit }: Props) {
  const w = useWords();
  const shown = value === null ? '' : exactLengthText(value, unit);
  const [typed, setTyped] = useState<{ readonly text: string; readonly over: string } | null>(null);
  // What was typed counts until the number under it changes.
  const isTyping = typed !== null && typed.over === shown;
  const text = isTyping ? typed.text : shown;
  const read = isTyping && text !== shown ? parseLength(text, unit) : undefined;
  const commit = () => {
    if (read?.ok !== true) return;
    setTyped(null);
    onCommit(read.metres);
  };
  return (
    <Field
      label={label}
      {...(hint === undefined ? {} : { hint })}
      value={text}
      inputMode="text"
      autoComplete="off"
      spellCheck={false}
      error={
        read === undefined || read.ok || read.fault === 'empty'
          ? undefined
          : w.desk.drawing.lengthFaults[read.fault]
      }
      onChange={(event) => setTyped({ text: event.target.value, over: shown })}
      onBlur={commit}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && text !== shown) {
          // Only what was typed is let go, not what is selected.
          event.stopPropagation();
          setTyped(null);
        }
        if (event.key !== 'Enter') return;
        event.preventDefault();
        commit();
      }}
    />
  );
}
