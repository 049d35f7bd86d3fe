import { WORKS } from '@sillwatch/trade';
import { useId } from 'react';
import type { Branch } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { useWords } from '../../words/index.ts';
import type { Filter } from './groups.ts';

interface Props {
  readonly branches: readonly Branch[];
  readonly filter: Filter;
  readonly onChange: (filter: Filter) => void;
}

export function DueFilter({ branches, filter, onChange }: Props) {
  const w = useWords();
  const id = useId();
  return (
    <search className="filter" aria-label={w.due.filter}>
      <label className="filter-text" htmlFor={`${id}-text`}>
        <span className="hidden-words">{w.due.search}</span>
        <Sign name="search" size={20} />
        <input
          id={`${id}-text`}
          type="search"
          placeholder={w.due.search}
          value={filter.text}
          onChange={(event) => onChange({ ...filter, text: event.target.value })}
        />
      </label>
      <Pick
        label={w.due.branch}
        all={w.due.allBranches}
        value={filter.branch}
        options={branches.map(({ branch, name }) => [branch, name])}
        onPick={(branch) => onChange({ ...filter, branch })}
      />
      <Pick
        label={w.due.work}
        all={w.due.allWork}
        value={filter.work}
        options={WORKS.map((work) => [work, w.works[work]])}
        onPick={(work) => onChange({ ...filter, work })}
      />
    </search>
  );
}

interface PickProps {
  readonly label: string;
  readonly all: string;
  readonly value: string;
  readonly options: readonly (readonly [string, string])[];
  readonly onPick: (value: string) => void;
}

function Pick({ label, all, value, options, onPick }: PickProps) {
  const id = useId();
  return (
    <div className="pick">
      <label className="hidden-words" htmlFor={id}>
        {label}
      </label>
      <select id={id} value={value} onChange={(event) => onPick(event.target.value)}>
        <option value="">{all}</option>
        {options.map(([key, name]) => (
          <option key={key} value={key}>
            {name}
          </option>
        ))}
      </select>
    </div>
  );
}
