import type { AnyFact, Application } from '@sillwatch/trade';
import { Link } from 'wouter';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { historyOf } from './history.ts';

interface Props {
  readonly facts: readonly AnyFact[];
  readonly numbersByStation: ReadonlyMap<string, number>;
}

const ROWS = 8;

/** Applications of pesticide as they stand, newest first; the papers hold all of them. */
export function Applications({ facts, numbersByStation }: Props) {
  const w = useWords();
  const days = useDays();
  const all = historyOf(facts).flatMap(({ fact, day, body }) => {
    const application = applicationOf(body);
    return application === null ? [] : [{ fact, day, application }];
  });
  if (all.length === 0) return <p className="nothing">{w.property.noApplications}</p>;
  return (
    <>
      <div className="table-room">
        <table>
          <thead>
            <tr>
              <th scope="col">{w.property.day}</th>
              <th scope="col">{w.property.station}</th>
              <th scope="col">{w.property.product}</th>
              <th scope="col">{w.property.amount}</th>
              <th scope="col">{w.property.applicator}</th>
            </tr>
          </thead>
          <tbody>
            {all.slice(0, ROWS).map(({ fact, day, application }) => (
              <tr key={fact.id}>
                <td>{day === null ? w.app.notKnown : days.plain(day)}</td>
                <td>
                  {fact.station !== null && (
                    <Link href={`/properties/${fact.property}/stations/${fact.station}`}>
                      {w.station.title(numbersByStation.get(fact.station) ?? 0)}
                    </Link>
                  )}
                </td>
                <td>
                  {application.productName}
                  <span className="quiet small"> {application.epaRegistrationNumber}</span>
                </td>
                <td>{w.property.grams(application.grams)}</td>
                <td>
                  {application.applicatorName}
                  <span className="quiet small"> {application.certificationNumber}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {all.length > ROWS && <p className="quiet small">{w.property.lastOf(ROWS, all.length)}</p>}
    </>
  );
}

function applicationOf(body: unknown): Application | null {
  if (typeof body !== 'object' || body === null || !('application' in body)) return null;
  const { application } = body;
  return isApplication(application) ? application : null;
}

/** What the server has taken has been checked there; this only tells an application from none. */
function isApplication(value: unknown): value is Application {
  return (
    typeof value === 'object' &&
    value !== null &&
    'productName' in value &&
    'grams' in value &&
    typeof value.grams === 'number'
  );
}
