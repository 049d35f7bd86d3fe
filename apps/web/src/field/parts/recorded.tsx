import { useEffect, useState, useSyncExternalStore } from 'react';
import { useWords } from '../../words/index.ts';
import { useStore } from '../yard.tsx';
import { Failure } from './failure.tsx';

interface Recorded {
  readonly factId: string;
  readonly number: number;
  readonly property: string;
}

let last: Recorded | undefined;
const listeners = new Set<() => void>();

/** Said on the screen that follows, with the way back. */
export function noteRecorded(recorded: Recorded | undefined): void {
  last = recorded;
  for (const listener of listeners) listener();
}

function useLast(): Recorded | undefined {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => last,
  );
}

const STAYS_MS = 12_000;

/** "Station 7 recorded. Take it back": for some seconds after each record. */
export function RecordedLine() {
  const w = useWords();
  const store = useStore();
  const recorded = useLast();
  const [error, setError] = useState<unknown>();
  useEffect(() => {
    if (recorded === undefined) return;
    const timer = setTimeout(() => noteRecorded(undefined), STAYS_MS);
    return () => clearTimeout(timer);
  }, [recorded]);
  const undo = async ({ factId }: Recorded) => {
    try {
      await store.undo(factId, w.field.property.undoWhy);
      noteRecorded(undefined);
    } catch (failure) {
      setError(failure);
    }
  };
  return (
    <div role="status" className="recorded-room">
      {recorded !== undefined && (
        <div className="recorded">
          <span>✓ {w.field.property.recorded(recorded.number)}</span>
          <button type="button" className="link-button" onClick={() => void undo(recorded)}>
            {w.field.property.undo}
          </button>
          <Failure error={error} />
        </div>
      )}
    </div>
  );
}
