import { soilCourse, toSoilSeason } from '@sillwatch/rounds';
import type { SoilNumbers } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade/units';
import { useState } from 'react';
import { useOffice } from '../../api/office.ts';
import { useBranches } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Select } from '../../shared/select.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { NoBranch } from '../noBranch.tsx';
import { ToOffice } from './officePage.tsx';
import { SoilForm } from './soilForm.tsx';
import { SoilPlot } from './soilPlot.tsx';

/** When the soil is warm enough for termites to forage: off until a branch enters numbers of its own, and then only a liking of the planner. */
export function SoilPage({ me }: { readonly me: Me }) {
  const w = useWords();
  const office = useOffice();
  const branches = useBranches();
  const [picked, setPicked] = useState('');
  const known = (branches.data?.branches ?? []).filter(
    (one) => me.branch === null || one.branch === me.branch,
  );
  const branch = picked === '' ? (known[0]?.branch ?? '') : picked;
  const numbers = office.data?.soilSeasons[branch];
  return (
    <Page title={w.desk.office.places.soil} eyebrow={<ToOffice />}>
      <p className="quiet">{w.desk.soil.lead}</p>
      <Notice title={w.desk.soil.caution} tone="open" />
      <Select
        label={w.due.branch}
        value={branch}
        options={known.map((one) => [one.branch, one.name] as const)}
        onPick={setPicked}
      />
      {(office.isPending || branches.isPending) && <Loading />}
      {office.isError && <Trouble error={office.error} retry={() => void office.refetch()} />}
      {branches.isSuccess && known.length === 0 && <NoBranch />}
      {office.isSuccess && branch !== '' && (
        <>
          {numbers === undefined ? (
            <p className="summary">{w.desk.soil.off}</p>
          ) : (
            <Course numbers={numbers} />
          )}
          <SoilForm key={`${branch} ${JSON.stringify(numbers)}`} me={me} branch={branch} numbers={numbers} />
        </>
      )}
    </Page>
  );
}

function Course({ numbers }: { readonly numbers: SoilNumbers }) {
  const w = useWords();
  const days = useDays();
  const course = soilCourse(toSoilSeason(numbers));
  const { from, to } = course.season ?? { from: '01-01', to: '12-31' };
  const spoken = (day: string): string => days.short(getDay(`2001-${day}`));
  return (
    <section className="sheet">
      <h2>{w.desk.soil.course(w.desk.soil.depth(numbers.depthMetres))}</h2>
      <p>
        {w.desk.book.say({
          ...course.says,
          values: { ...course.says.values, from: spoken(from), to: spoken(to) },
        })}{' '}
        {w.desk.soil.threshold(w.desk.soil.degrees(numbers.forageFromCelsius))}
      </p>
      <SoilPlot label={w.desk.soil.plot} course={course} forageFromCelsius={numbers.forageFromCelsius} />
      <p className="quiet small">{w.desk.soil.from(numbers.source)}</p>
    </section>
  );
}
