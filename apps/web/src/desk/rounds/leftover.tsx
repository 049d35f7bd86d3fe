import { getDay } from '@sillwatch/trade';
import { Link } from 'wouter';
import type { BranchPlanAnswer, Remedy } from '../../api/plans.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { NamesByProperty } from './names.ts';

interface Props {
  readonly plan: BranchPlanAnswer;
  readonly names: NamesByProperty;
}

/** What stands in no round and what would make room; what is late all the same; whom to call. */
export function Leftover({ plan, names }: Props) {
  const w = useWords();
  const days = useDays();
  const nameOf = (person: string): string => plan.people.find((one) => one.person === person)?.name ?? person;
  const remedyWords = (remedy: Remedy): string =>
    w.desk.plan.remedy({
      ...remedy,
      who: remedy.person === undefined ? '' : nameOf(remedy.person),
      when: remedy.day === undefined ? '' : days.short(getDay(remedy.day)),
    });
  const late = [...Map.groupBy(plan.late, ({ property }) => property)];
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
          <ul className="office-list">
            {plan.unplanned.map((one) => (
              <li key={`${one.property} ${one.earliest} ${one.works.length}`}>
                <p>
                  <Place property={one.property} names={names} />: {w.desk.plan.unplannedReasons[one.reason]}
                </p>
                {one.remedies !== null && one.remedies.length > 0 && (
                  <p className="quiet small">
                    {w.desk.plan.wouldFit} {one.remedies.slice(0, 3).map(remedyWords).join('; ')}.
                  </p>
                )}
              </li>
            ))}
          </ul>
        </section>
      )}
      {late.length > 0 && (
        <details className="sheet">
          <summary>{w.desk.plan.late(late.length)}</summary>
          <ul className="office-list">
            {late.map(([property, works]) => (
              <li key={property}>
                <Place property={property} names={names} />:{' '}
                {w.desk.plan.lateOf(works.length, works.filter(({ wasLate }) => wasLate).length)}
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function Place({ property, names }: { readonly property: string; readonly names: NamesByProperty }) {
  const place = names.get(property);
  return (
    <Link href={`/properties/${property}`}>
      {place === undefined ? property : `${place.name}, ${place.town}`}
    </Link>
  );
}
