import type { ReckonedHead } from '../api/reckoned.ts';
import { useWords } from '../words/index.ts';

/** How old an answer is that entries have come after; nothing for one that is as of now. */
export function ReckonedAge({ head }: { readonly head: ReckonedHead | undefined }) {
  const w = useWords();
  if (head === undefined) return null;
  if (head.state === 'reckoning')
    return (
      <p role="status" className="lead">
        {w.desk.load.reckoning}
      </p>
    );
  if (head.behind === 0 || head.reckonedAt === null) return null;
  return (
    <p role="status" className="quiet">
      {w.desk.load.behind(`${head.asOf}, ${w.format.time(new Date(head.reckonedAt))}`, head.behind)}
    </p>
  );
}
