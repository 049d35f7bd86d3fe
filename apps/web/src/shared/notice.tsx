import type { ReactNode } from 'react';
import { ProblemError, UnreachableError } from '../api/client.ts';
import { Sign } from '../marks/signs.tsx';
import { useWords } from '../words/index.ts';

interface NoticeProps {
  readonly title: string;
  readonly children?: ReactNode;
  readonly tone?: 'plain' | 'late' | 'feeding' | 'open';
}

/** Something the reader must know here, with what to do about it. */
export function Notice({ title, children, tone = 'plain' }: NoticeProps) {
  return (
    <div className={`notice notice-${tone}`}>
      {tone !== 'plain' && <Sign name="caution" />}
      <div>
        <p className="notice-title">{title}</p>
        {children !== undefined && <div className="notice-body">{children}</div>}
      </div>
    </div>
  );
}

export function Loading() {
  const w = useWords();
  return (
    <div className="loading" role="status">
      <span className="hidden-words">{w.app.loading}</span>
      <span className="bone" />
      <span className="bone" />
      <span className="bone" />
    </div>
  );
}

interface TroubleProps {
  readonly error: Error;
  readonly retry: () => void;
}

export function Trouble({ error, retry }: TroubleProps) {
  const w = useWords();
  const [title, remedy] = explain(error, w);
  return (
    <div role="alert">
      <Notice title={title} tone="late">
        <p>{remedy}</p>
        <button type="button" className="button" onClick={retry}>
          {w.app.retry}
        </button>
      </Notice>
    </div>
  );
}

function explain(error: Error, w: ReturnType<typeof useWords>): readonly [string, string] {
  if (error instanceof UnreachableError) return [w.problem.offline, w.problem.offlineRemedy];
  if (error instanceof ProblemError && error.problem.status === 403)
    return [w.problem.notAllowed, w.problem.notAllowedRemedy];
  if (error instanceof ProblemError && error.problem.status === 404)
    return [w.problem.gone, w.problem.goneRemedy];
  return [w.problem.unexpected, `${w.problem.unexpectedRemedy} ${error.message}`];
}
