import type { EfficacyAnswer, GroupedTimes, RiskAnswer } from '@sillwatch/rounds';
import { Link } from 'wouter';
import { DataTable } from '../../shared/dataTable.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { Figure } from './bookPage.tsx';
import { CalibrationPlot } from './calibrationPlot.tsx';
import { CurvePlot } from './curvePlot.tsx';
import { FiguresFrame } from './frame.tsx';
import { useFigures } from './queries.ts';

/** Do the stations do their work, with intervals; and where to look first, which never means to skip a due visit. */
export function WorkPage() {
  const w = useWords();
  return (
    <FiguresFrame<EfficacyAnswer> name="efficacy" title={w.desk.book.workTitle}>
      {(answer, branch) => (
        <>
          <Notice title={w.desk.book.clearCaution} tone="open" />
          <Times title={w.desk.book.toFirstHit} times={answer.toFirstHit.structures} />
          <Times title={w.desk.book.toClear} times={answer.toClear.structures} />
          <Quarters answer={answer} />
          <Risk branch={branch} />
        </>
      )}
    </FiguresFrame>
  );
}

function Times({ title, times }: { readonly title: string; readonly times: GroupedTimes }) {
  const w = useWords();
  return (
    <Figure title={title} says={times.all.says}>
      {times.all.curve !== null && <p>{w.desk.book.say(times.all.curve.restrictedMean.says)}</p>}
      <CurvePlot label={title} times={times.all} />
      {times.groups.length > 0 && (
        <ul>
          {times.groups.map(({ group, says }) => (
            <li key={group}>
              {w.desk.book.group[group] ?? group}: {w.desk.book.say(says)}
            </li>
          ))}
        </ul>
      )}
      {times.says !== null && <p className="quiet">{w.desk.book.say(times.says)}</p>}
    </Figure>
  );
}

/** Hits a station-quarter, monitors lost and stations not opened, and whether a year differs from the one before by more than chance. */
function Quarters({ answer: { quarters, change } }: { readonly answer: EfficacyAnswer }) {
  const w = useWords();
  const b = w.desk.book;
  const { number, trim } = w.format;
  const hundred = (rate: number | undefined): string => (rate === undefined ? '' : trim(100 * rate));
  return (
    <Figure title={b.byQuarter} says={change.says}>
      <p className="quiet small">{b.byQuarterHow}</p>
      <DataTable
        label={b.byQuarter}
        heads={b.quarterHeads}
        rows={quarters.map(({ period, hits, hitRate, stationsCleared, monitorsLost, notOpened, looks }) => ({
          key: period.name,
          cells: [
            period.name,
            number(hits),
            hundred(hitRate?.estimate),
            hitRate === null ? '' : `${hundred(hitRate.lower)}–${hundred(hitRate.upper)}`,
            number(stationsCleared),
            number(monitorsLost),
            number(notOpened),
            number(looks),
          ],
        }))}
      />
    </Figure>
  );
}

interface OfBranch {
  /** '' = all */
  readonly branch: string;
}

function Risk({ branch }: OfBranch) {
  const w = useWords();
  const risk = useFigures<RiskAnswer>('risk', branch);
  const figures = risk.data?.figures;
  if (figures == null) return null;
  const per = (share: number): string => `${w.format.trim(100 * share)} %`;
  return (
    <section className="sheet">
      <h2>{w.desk.book.risk}</h2>
      <p>
        <strong>{w.desk.book.riskCaution}</strong>
      </p>
      <p className="quiet">
        {figures.tooLittle ? w.desk.book.tooLittle : w.desk.book.riskFrom(figures.hits, figures.looks)}
      </p>
      <h3>{w.desk.book.calibrationTitle}</h3>
      <p>{w.desk.book.say(figures.calibrationSays)}</p>
      {figures.calibration !== null && (
        <CalibrationPlot label={w.desk.book.calibrationTitle} calibration={figures.calibration} />
      )}
      <h3>{w.desk.book.riskList}</h3>
      <DataTable
        label={w.desk.book.risk}
        heads={w.desk.book.riskHeads}
        rows={figures.stations.slice(0, 40).map(({ property, station, number, chance, lower, upper }) => ({
          key: `${property} ${station}`,
          cells: [
            <Link key="link" href={`/properties/${property}/stations/${station}`}>
              {figures.names[property] ?? property}, {number}
            </Link>,
            per(chance),
            `${per(lower)}–${per(upper)}`,
          ],
        }))}
      />
    </section>
  );
}
