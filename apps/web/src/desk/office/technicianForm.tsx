import type { DayHours, TechnicianBody } from '@sillwatch/trade';
import { useState } from 'react';
import { recordOfFirm } from '../../api/office.ts';
import type { Branch, Me } from '../../api/types.ts';
import { readCount } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { readPlace } from '../../shared/place.ts';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly me: Me;
  readonly person: Pick<TechnicianBody, 'person' | 'name' | 'licenceNumber' | 'branch'>;
  /** undefined = has driven no rounds so far */
  readonly known: TechnicianBody | undefined;
  readonly branches: readonly Branch[];
  readonly onDone: () => void;
}

const WEEKDAYS = [1, 2, 3, 4, 5, 6, 7] as const;

/** Hours, home and what the person can do. Nothing is filled in that nobody said. */
export function TechnicianForm({ me, person, known, branches, onDone }: Props) {
  const w = useWords();
  const [branch, setBranch] = useState(person.branch);
  const [hours, setHours] = useState<readonly DayHours[]>(known?.hours ?? []);
  const [start, setStart] = useState(placeText(known?.start));
  const [end, setEnd] = useState(known === undefined || same(known) ? '' : placeText(known.end));
  const [breakMinutes, setBreak] = useState(String(known?.breakMinutes ?? ''));
  const [overtime, setOvertime] = useState(String(known?.mostOvertimeMinutes ?? ''));
  const [skills, setSkills] = useState((known?.skills ?? []).join(', '));
  const [active, setActive] = useState(known?.active ?? true);
  const [tried, setTried] = useState(false);
  const startPlace = readPlace(start);
  const endPlace = end.trim() === '' ? startPlace : readPlace(end);
  const save = useSubmit(
    (body: TechnicianBody) => recordOfFirm(me, 'technician set', body),
    () => onDone(),
  );
  const submit = (): void => {
    setTried(true);
    const breakRead = readCount(breakMinutes);
    const overtimeRead = readCount(overtime);
    if (startPlace === undefined || endPlace === undefined) return;
    if (breakRead === undefined || overtimeRead === undefined) return;
    save.mutate({
      ...person,
      branch,
      start: startPlace,
      end: endPlace,
      hours,
      breakMinutes: breakRead,
      mostOvertimeMinutes: overtimeRead,
      skills: skills
        .split(',')
        .map((skill) => skill.trim())
        .filter((skill) => skill !== ''),
      active,
    });
  };
  const wrongPlace = w.desk.rounds.notAPlace;
  return (
    <form
      className="form"
      onSubmit={(event) => {
        event.preventDefault();
        submit();
      }}
    >
      <h3>{person.name}</h3>
      <div className="form-columns">
        <Select
          label={w.due.branch}
          value={branch}
          options={[['', ''], ...branches.map((one) => [one.branch, one.name] as const)]}
          onPick={setBranch}
        />
        <Field
          label={w.desk.rounds.start}
          hint={w.desk.rounds.placeHint}
          required
          value={start}
          error={tried && startPlace === undefined ? wrongPlace : undefined}
          onChange={(event) => setStart(event.target.value)}
        />
        <Field
          label={w.desk.rounds.end}
          hint={w.desk.rounds.endHint}
          value={end}
          error={tried && endPlace === undefined && end.trim() !== '' ? wrongPlace : undefined}
          onChange={(event) => setEnd(event.target.value)}
        />
        <Field
          label={w.desk.rounds.breakMinutes}
          inputMode="numeric"
          required
          value={breakMinutes}
          error={tried && readCount(breakMinutes) === undefined ? w.decimal.notCount : undefined}
          onChange={(event) => setBreak(event.target.value)}
        />
        <Field
          label={w.desk.rounds.overtime}
          inputMode="numeric"
          required
          value={overtime}
          error={tried && readCount(overtime) === undefined ? w.decimal.notCount : undefined}
          onChange={(event) => setOvertime(event.target.value)}
        />
        <Field
          label={w.desk.rounds.skills}
          hint={w.desk.rounds.skillsHint}
          value={skills}
          onChange={(event) => setSkills(event.target.value)}
        />
      </div>
      <fieldset className="week">
        <legend>{w.desk.rounds.hours}</legend>
        {WEEKDAYS.map((weekday) => (
          <Weekday
            key={weekday}
            name={w.desk.rounds.weekdays[weekday - 1] ?? ''}
            hours={hours.find((day) => day.weekday === weekday)}
            onChange={(day) =>
              setHours(
                [
                  ...hours.filter((one) => one.weekday !== weekday),
                  ...(day === undefined ? [] : [{ weekday, ...day }]),
                ].sort((a, b) => a.weekday - b.weekday),
              )
            }
          />
        ))}
      </fieldset>
      <label className="check">
        <input type="checkbox" checked={active} onChange={(event) => setActive(event.target.checked)} />
        {w.desk.rounds.active}
      </label>
      <Refusal error={save.error} />
      <div className="buttons">
        <button type="submit" className="button button-main" disabled={save.isPending || branch === ''}>
          {w.desk.office.save}
        </button>
        <button type="button" className="button" onClick={onDone}>
          {w.desk.office.leave}
        </button>
      </div>
    </form>
  );
}

interface WeekdayProps {
  readonly name: string;
  readonly hours: { readonly from: string; readonly to: string } | undefined;
  readonly onChange: (hours: { readonly from: string; readonly to: string } | undefined) => void;
}

function Weekday({ name, hours, onChange }: WeekdayProps) {
  const w = useWords();
  return (
    <div className="weekday">
      <label className="check">
        <input
          type="checkbox"
          checked={hours !== undefined}
          onChange={(event) => onChange(event.target.checked ? { from: '', to: '' } : undefined)}
        />
        {name}
      </label>
      {hours !== undefined && (
        <>
          <input
            type="time"
            required
            aria-label={`${name}: ${w.desk.rounds.from}`}
            value={hours.from}
            onChange={(event) => onChange({ ...hours, from: event.target.value })}
          />
          <input
            type="time"
            required
            aria-label={`${name}: ${w.desk.rounds.to}`}
            value={hours.to}
            onChange={(event) => onChange({ ...hours, to: event.target.value })}
          />
        </>
      )}
    </div>
  );
}

type Place = TechnicianBody['start'];

function placeText(place: Place | undefined): string {
  return place === undefined ? '' : `${place.latitude}, ${place.longitude}`;
}

function same({ start, end }: TechnicianBody): boolean {
  return placeText(start) === placeText(end);
}
