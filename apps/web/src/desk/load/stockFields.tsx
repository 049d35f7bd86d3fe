import { Field } from '../../shared/field.tsx';
import { useWords } from '../../words/index.ts';

interface Text {
  readonly value: string;
  readonly onText: (value: string) => void;
}

/** How many of a part; at least one, where nothing else is said. */
export function CountField({ value, onText, min = 1 }: Text & { readonly min?: number }) {
  const w = useWords();
  return (
    <Field
      label={w.desk.load.count}
      type="number"
      min={min}
      step={1}
      required
      value={value}
      onChange={(event) => onText(event.target.value)}
    />
  );
}

export function LotField({ value, onText }: Text) {
  const w = useWords();
  return (
    <Field
      label={w.desk.load.lot}
      hint={w.desk.load.optional}
      value={value}
      onChange={(event) => onText(event.target.value)}
    />
  );
}

export function UsableUntilField({ value, onText }: Text) {
  const w = useWords();
  return (
    <Field
      label={w.desk.load.usableUntil}
      hint={w.desk.load.optional}
      type="date"
      value={value}
      onChange={(event) => onText(event.target.value)}
    />
  );
}

/** When an order is to come: not before it was ordered. */
export function ExpectedField({ value, onText, orderedOn }: Text & { readonly orderedOn: string }) {
  const w = useWords();
  return (
    <Field
      label={w.desk.load.expected}
      type="date"
      required
      min={orderedOn}
      value={value}
      onChange={(event) => onText(event.target.value)}
    />
  );
}

export function ReferenceField({ value, onText }: Text) {
  const w = useWords();
  return (
    <Field
      label={w.desk.load.reference}
      hint={w.desk.load.optional}
      value={value}
      onChange={(event) => onText(event.target.value)}
    />
  );
}
