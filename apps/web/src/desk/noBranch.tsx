import { Link } from 'wouter';
import { Notice } from '../shared/notice.tsx';
import { useWords } from '../words/index.ts';

/** What belongs to a branch, in a firm that has none yet. */
export function NoBranch() {
  const w = useWords();
  return (
    <Notice title={w.due.noBranch}>
      <p>{w.due.noBranchRemedy}</p>
      <Link href="/office/rounds" className="button">
        {w.desk.office.places.rounds}
      </Link>
    </Notice>
  );
}
