import { WORKS } from '@sillwatch/trade';
import { useId } from 'react';
import type { Branch, DueAnswer } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { useWords } from '../../words/index.ts';
import type { Filter } from './filter.ts';

interface Props {
  readonly branches: readonly Branch[];
  readonly towns: DueAnswer['towns'];
  /** name by account */
  readonly people: ReadonlyMap<string, string>;
  readonly filter: Filter;
  readonly onChange: (filter: Filter) => void;
}

export function DueFilter({ branches, towns, people, filter, onChange }: Props) {
  const w = useWords();
  const id = useId();
  return (
    <search className="filter" aria-label={w.due.filter}>
      <label className="filter-text" htmlFor={`${id}-text`}>
        <span className="hidden-words">{w.desk.dueBoard.search}</span>
        <Sign name="search" size={20} />
        <input
          id={`${id}-text`}
          type="search"
          placeholder={w.desk.dueBoard.search}
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
        label={w.desk.dueBoard.town}
        all={w.desk.dueBoard.allTowns}
        value={filter.town}
        options={towns.map(({ town, rows }) => [town, w.desk.dueBoard.townRows(town, rows)])}
        onPick={(town) => onChange({ ...filter, town })}
      />
      <Pick
        label={w.desk.dueBoard.technicianHint}
        all={w.desk.dueBoard.allTechnicians}
        value={filter.technician}
        options={[...people].sort(([, a], [, b]) => a.localeCompare(b))}
        onPick={(technician) => onChange({ ...filter, technician })}
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
