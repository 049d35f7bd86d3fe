import type { PublishedCriteria } from '@sillwatch/rounds';
import { DataTable } from '../../shared/dataTable.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { Figure } from './bookPage.tsx';
import { CurvePlot } from './curvePlot.tsx';
import { FiguresFrame } from './frame.tsx';

/** Published criteria for bait studies beside the firm's own record, with the caution that this is no such study. */
export function CriteriaPage() {
  const w = useWords();
  const b = w.desk.book;
  return (
    <FiguresFrame<PublishedCriteria> name="criteria" title={b.criteria}>
      {({ criteria, toClear }) => (
        <>
          <Notice title={b.criteriaCaution} tone="open" />
          <section className="sheet">
            <p>{b.criteriaLead}</p>
            <DataTable
              label={b.criteria}
              heads={b.criteriaHeads}
              rows={criteria.map(({ id, asked, source, says }) => ({
                key: id,
                cells: [
                  b.criterion[id],
                  asked === null ? '–' : `${w.format.number(100 * asked)}\u00a0%`,
                  <>
                    {b.say(says)}
                    <br />
                    <small className="quiet">{source}</small>
                  </>,
                ],
              }))}
            />
          </section>
          <Figure title={b.toClear} says={toClear.says}>
            <CurvePlot label={b.toClear} times={toClear} />
          </Figure>
          <Notice title={b.clearCaution} tone="open" />
        </>
      )}
    </FiguresFrame>
  );
}
