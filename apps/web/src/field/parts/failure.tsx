import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { RecordError } from '../store/port.ts';

/** Why a record was not stored, and what to do; what was typed is still there. */
export function Failure({ error }: { readonly error: unknown }) {
  const w = useWords();
  if (error === undefined) return null;
  const code = error instanceof RecordError ? error.code : 'storage failed';
  return (
    <div role="alert">
      <Notice title={w.field.station.failed} tone="late">
        <p>{w.field.station.failures[code] ?? w.field.station.failures['storage failed']}</p>
      </Notice>
    </div>
  );
}
