import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { propertyRowsQuery, usePropertyCount } from '../../api/queries.ts';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';

/** As many as can be looked through in one list; more are narrowed down by words. */
const MOST_SHOWN = 50;

interface Props {
  readonly value: string;
  readonly onPick: (property: string) => void;
  /** Said for "none in particular"; absent = one must be chosen. */
  readonly all?: string;
}

/** One property out of thousands: words narrow the list down. */
export function PropertyChoice({ value, onPick, all }: Props) {
  const w = useWords();
  const [text, setText] = useState('');
  const count = usePropertyCount(text);
  const rows = useQuery(propertyRowsQuery(text, 0));
  const found = (rows.data ?? []).slice(0, MOST_SHOWN);
  const total = count.data?.total ?? 0;
  const options = [
    ['', all ?? w.desk.papers.pickProperty] as const,
    ...found.map((row) => [row.property, `${row.name}, ${row.street}, ${row.town}`] as const),
    // What was chosen stays chosen when the words no longer match it.
    ...(value === '' || found.some((row) => row.property === value) ? [] : [[value, value] as const]),
  ];
  return (
    <>
      <Field
        label={w.desk.papers.find}
        type="search"
        value={text}
        onChange={(event) => setText(event.target.value)}
        {...(count.data === undefined
          ? {}
          : { hint: w.desk.papers.listed(Math.min(total, MOST_SHOWN), count.data.total, count.data.all) })}
      />
      <Select label={w.desk.papers.property} value={value} options={options} onPick={onPick} />
    </>
  );
}
