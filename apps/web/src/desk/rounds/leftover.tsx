import type { BranchPlan, LateWorkItem } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import { useState } from 'react';
import { Link } from 'wouter';
import type { Cell, PlanAnswer } from '../../api/plans.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { Movable } from './carry.tsx';
import { MoveForm } from './moveForm.tsx';
import type { NamesByProperty } from './names.ts';
import { Remedies } from './remedies.tsx';
import { MoveButton } from './roundSheet.tsx';

interface Props {
  readonly answer: PlanAnswer;
  readonly plan: BranchPlan;
  readonly names: NamesByProperty;
  readonly onMoved: (item: Movable, to: Cell) => void;
  readonly onOpen: (round: string, visit?: string) => void;
}

/** Whom to call; what stands in no round; what is late all the same: each with the reason, and what was tried and would help. */
export function Leftover({ answer, plan, names, onMoved, onOpen }: Props) {
  const w = useWords();
  const days = useDays();
  const late = groupLate(plan.late);
  const open = late.filter(({ first }) => !first.wasLate);
  const before = late.filter(({ first }) => first.wasLate);
  return (
    <>
      {plan.released.length > 0 && (
        <section className="sheet">
          <h2>{w.desk.plan.call(plan.released.length)}</h2>
          <ul className="office-list">
            {plan.released.map(({ property, what, day, why }) => (
              <li key={`${property} ${day}`}>
                <Place property={property} names={names} />: {w.desk.plan.released[what]}{' '}
                {days.short(getDay(day))}; {w.desk.plan.releaseReasons[why]}
              </li>
            ))}
          </ul>
        </section>
      )}
      {plan.unplanned.length > 0 && (
        <section className="sheet">
          <h2>{w.desk.plan.unplanned(plan.unplanned.length)}</h2>
          <p className="quiet small">{w.desk.plan.priceHow}</p>
          <ul className="office-list">
            {plan.unplanned.map((one) => (
              <Unplanned
                key={`${one.property} ${one.key ?? one.reason} ${one.earliest}`}
                answer={answer}
                plan={plan}
                names={names}
                one={one}
                onMoved={onMoved}
              />
            ))}
          </ul>
        </section>
      )}
      {open.length > 0 && (
        <section className="sheet">
          <h2>{w.desk.plan.late(open.length)}</h2>
          <p className="quiet small">{w.desk.plan.priceHow}</p>
          <ul className="office-list">
            {open.map((group) => (
              <Late
                key={group.key}
                answer={answer}
                plan={plan}
                names={names}
                group={group}
                onMoved={onMoved}
                onOpen={onOpen}
              />
            ))}
          </ul>
        </section>
      )}
      {before.length > 0 && (
        <details className="sheet">
          <summary>{w.desk.plan.lateBefore(before.length)}</summary>
          <ul className="office-list">
            {before.map(({ key, first, works }) => (
              <li key={key}>
                <Place property={first.property} names={names} />:{' '}
                {w.desk.plan.lateWorks(works, days.short(getDay(first.latest)))}{' '}
                {first.plannedOn === null
                  ? w.desk.plan.plannedNever
                  : w.desk.plan.plannedOn(days.short(getDay(first.plannedOn)))}
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

/** Where the form of a line begins: at a remedy that was pressed, or anywhere. */
type Choice = Cell & { readonly isRemedy: boolean };

interface UnplannedProps extends Omit<Props, 'onOpen'> {
  readonly one: BranchPlan['unplanned'][number];
}

/** Work in no round: dragged or put into one, or helped by what was tried. */
function Unplanned({ answer, plan, names, one, onMoved }: UnplannedProps) {
  const w = useWords();
  const days = useDays();
  const [to, setTo] = useState<Choice | undefined>();
  const { property, key, earliest, latest, remedies } = one;
  const item: Movable | undefined = key === undefined ? undefined : { visit: key, property, from: null };
  const [someone] = plan.people;
  const usual: Choice = {
    day: earliest === null || earliest < plan.from ? plan.from : earliest,
    person: someone?.person ?? '',
    isRemedy: false,
  };
  return (
    <li>
      <div className="office-line">
        <div>
          <p>
            <Place property={property} names={names} />: {w.desk.plan.unplannedReasons[one.reason]}.
          </p>
          {earliest !== null && latest !== null && (
            <p className="quiet small">
              {w.desk.plan.windowOf(days.short(getDay(earliest)), days.short(getDay(latest)))}
            </p>
          )}
        </div>
        {item !== undefined && someone !== undefined && (
          <div className="buttons">
            <MoveButton
              item={item}
              isOpen={to !== undefined}
              onPress={() => setTo(to === undefined ? usual : undefined)}
              words={w.desk.plan.putInRound}
            />
          </div>
        )}
      </div>
      <Remedies
        plan={plan}
        property={property}
        remedies={remedies}
        onTry={item && ((cell) => setTo({ ...cell, isRemedy: true }))}
      />
      <Put
        answer={answer}
        plan={plan}
        item={item}
        to={to}
        onDone={(done, cell) => {
          setTo(undefined);
          onMoved(done, cell);
        }}
      />
    </li>
  );
}

interface PutProps extends Pick<Props, 'answer' | 'plan'> {
  readonly item: Movable | undefined;
  readonly to: Choice | undefined;
  readonly onDone: (item: Movable, to: Cell) => void;
}

/** The form of a line, once something was pressed. */
function Put({ answer, plan, item, to, onDone }: PutProps) {
  if (item === undefined || to === undefined) return null;
  return (
    <MoveForm
      key={`${to.day} ${to.person}`}
      answer={answer}
      plan={plan}
      item={item}
      to={to}
      asksAtOnce={to.isRemedy}
      onDone={(cell) => onDone(item, cell)}
    />
  );
}

interface LateProps extends Props {
  readonly group: LateGroup;
}

/** Work whose window the plan does not keep: why, and what would have it in time. */
function Late({ answer, plan, names, group, onMoved, onOpen }: LateProps) {
  const w = useWords();
  const days = useDays();
  const [to, setTo] = useState<Choice | undefined>();
  const { first, works } = group;
  const { property, plannedOn, why } = first;
  const round = plan.rounds.find(
    ({ day, visits }) => day === plannedOn && visits.some((visit) => visit.property === property),
  );
  const position = round?.visits.findIndex((visit) => visit.property === property) ?? -1;
  const visit = round?.visits[position]?.visit;
  const item: Movable | undefined =
    round === undefined || visit === undefined
      ? undefined
      : { visit, property, from: { day: round.day, person: round.person, position } };
  return (
    <li>
      <p>
        <Place property={property} names={names} />:{' '}
        {w.desk.plan.lateWorks(works, days.short(getDay(first.latest)))}{' '}
        {plannedOn === null || round === undefined ? (
          w.desk.plan.plannedNever
        ) : (
          <button
            type="button"
            className="link-button"
            onClick={() => onOpen(`${round.day} ${round.person}`, visit)}
          >
            {w.desk.plan.plannedOn(days.short(getDay(plannedOn)))}
          </button>
        )}
      </p>
      {why !== undefined && <p className="small">{w.desk.plan.lateReasons[why]}</p>}
      <Remedies
        plan={plan}
        property={property}
        remedies={first.remedies ?? null}
        onTry={item && ((cell) => setTo({ ...cell, isRemedy: true }))}
      />
      <Put
        answer={answer}
        plan={plan}
        item={item}
        to={to}
        onDone={(done, cell) => {
          setTo(undefined);
          onMoved(done, cell);
        }}
      />
    </li>
  );
}

interface LateGroup {
  readonly key: string;
  readonly first: LateWorkItem;
  /** pieces of work of the property with the same day and the same reason */
  readonly works: number;
}

function groupLate(late: readonly LateWorkItem[]): readonly LateGroup[] {
  const keyOf = ({ property, plannedOn, why, latest }: LateWorkItem): string =>
    `${property} ${plannedOn} ${why} ${latest}`;
  return [...Map.groupBy(late, keyOf)].flatMap(([key, works]) => {
    const [first] = works;
    return first === undefined ? [] : [{ key, first, works: works.length }];
  });
}

function Place({ property, names }: { readonly property: string; readonly names: NamesByProperty }) {
  const place = names.get(property);
  return (
    <Link href={`/properties/${property}`}>
      {place === undefined ? property : `${place.name}, ${place.town}`}
    </Link>
  );
}
