import { STATION_MARKS, StationMark } from '../marks/stationMark.tsx';
import { TimeMark } from '../marks/timeMark.tsx';
import { Page } from '../shared/page.tsx';
import { useWords } from '../words/index.ts';

const TIMES = ['late', 'past target', 'open', 'not yet'] as const;

/** The key to every mark, so that nobody has to guess. */
export function MarksPage() {
  const w = useWords();
  return (
    <Page title={w.marks.title}>
      <p className="lead">{w.marks.lead}</p>
      <section className="sheet">
        <h2>{w.marks.stations}</h2>
        <dl className="marks">
          {STATION_MARKS.map((kind) => (
            <div key={kind}>
              <dt>
                <StationMark kind={kind} size={34} silent />
                <span>{w.marks.station[kind]}</span>
              </dt>
              <dd>{w.marks.stationMeaning[kind]}</dd>
            </div>
          ))}
        </dl>
      </section>
      <section className="sheet">
        <h2>{w.marks.times}</h2>
        <p className="quiet">{w.marks.timesLead}</p>
        <dl className="marks">
          {TIMES.map((kind) => (
            <div key={kind}>
              <dt>
                <TimeMark kind={kind} size={34} silent />
                <span>{w.marks.time[kind]}</span>
              </dt>
              <dd>{w.marks.timeMeaning[kind]}</dd>
            </div>
          ))}
        </dl>
      </section>
    </Page>
  );
}
