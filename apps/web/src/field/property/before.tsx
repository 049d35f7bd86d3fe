import { findDay } from '@sillwatch/trade';
import { Notice } from '../../shared/notice.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { FieldProperty } from '../store/port.ts';

interface Props {
  readonly property: FieldProperty;
  readonly isBegun: boolean;
}

/** What to know before the first cap: shown whole once, folded away while one works. */
export function Before({ property, isBegun }: Props) {
  const w = useWords();
  const days = useDays();
  const { body, asks, promise } = property.state;
  const weekday = new Intl.DateTimeFormat(w.locale, { weekday: 'long', timeZone: 'UTC' });
  const promised = promise?.day == null ? undefined : findDay(promise.day);
  const facts = (
    <dl className="facts">
      <div>
        <dt>{w.field.property.hazards}</dt>
        <dd className={body?.hazards ? 'yard-hazards' : 'quiet'}>
          {body?.hazards || w.field.property.noHazards}
        </dd>
      </div>
      <div>
        <dt>{w.field.property.access}</dt>
        <dd>{body?.accessNotes || w.field.property.noAccess}</dd>
      </div>
      {body?.visitHours != null && (
        <div>
          <dt>{w.field.today.days}</dt>
          <dd>
            {w.field.today.hours(
              // 1970-01-05 was a Monday, weekday 1.
              body.visitHours.weekdays.map((day) => weekday.format((day + 3) * 86_400_000)).join(', '),
              body.visitHours.from,
              body.visitHours.to,
            )}
          </dd>
        </div>
      )}
      {promised !== undefined && promise !== null && (
        <div>
          <dt>{w.property.customer}</dt>
          <dd>{w.field.property.promised(days.plain(promised), promise.from, promise.to)}</dd>
        </div>
      )}
      {asks.map((ask) => (
        <div key={ask.ask}>
          <dt>{w.property.customer}</dt>
          <dd>{w.field.today.ask(ask.why)}</dd>
        </div>
      ))}
    </dl>
  );
  if (isBegun)
    return (
      <details className="rest">
        <summary>
          {w.field.property.before}
          {body?.hazards ? <span className="yard-hazards"> {body.hazards}</span> : null}
        </summary>
        {facts}
      </details>
    );
  return (
    <>
      <Notice title={w.field.property.before} tone="open">
        <ul className="yard-cautions">
          {w.field.property.beforeList.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Notice>
      <section className="sheet">{facts}</section>
      {property.profile?.invented === true && <p className="demo">{w.field.property.inventedProfile}</p>}
    </>
  );
}
