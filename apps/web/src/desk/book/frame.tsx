import type { FigureName } from '@sillwatch/rounds';
import { type ReactNode, useState } from 'react';
import { useBranches } from '../../api/queries.ts';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { ReckonedAge } from '../../shared/reckonedAge.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import { PageLinks } from '../pageLinks.tsx';
import { type CutLists, useFigures } from './queries.ts';

interface Props<T> {
  readonly name: FigureName;
  readonly title: string;
  /** `branch` is '' for all of them */
  readonly children: (figures: T & CutLists, branch: string) => ReactNode;
}

/** A page of figures: its branch, and a word while the server reckons. */
export function FiguresFrame<T>({ name, title, children }: Props<T>) {
  const w = useWords();
  const branches = useBranches();
  const [branch, setBranch] = useState('');
  const figures = useFigures<T>(name, branch);
  return (
    <Page title={title}>
      <PageLinks
        label={w.desk.book.pages}
        pages={[
          ['/book', w.desk.book.title],
          ['/book/stations', w.desk.book.workTitle],
          ['/book/criteria', w.desk.book.criteria],
          ['/book/minutes', w.desk.book.minutesTitle],
          ['/book/bait', w.desk.book.baitTitle],
        ]}
      />
      <Select
        label={w.due.branch}
        value={branch}
        options={[
          ['', w.due.allBranches],
          ...(branches.data?.branches ?? []).map((one) => [one.branch, one.name] as const),
        ]}
        onPick={setBranch}
      />
      {figures.isPending && <Loading />}
      {figures.isError && <Trouble error={figures.error} retry={() => void figures.refetch()} />}
      <ReckonedAge head={figures.data} />
      {figures.data?.figures != null && children(figures.data.figures, branch)}
    </Page>
  );
}

/** Says that lists were cut, where they were. */
export function RowsLeft({ rows }: { readonly rows: number }) {
  const w = useWords();
  return rows === 0 ? null : <p className="quiet">{w.desk.book.rowsLeft(rows)}</p>;
}
