import { useCallback, useEffect, useRef, useState } from 'react';
import { useStore } from '../yard.tsx';

/**
 * Half-done input that survives a kill or an update: read once, kept at every change.
 * undefined until it has been read; `key` undefined = nothing is kept.
 */
export function useDraft<T>(
  key: string | undefined,
  first: () => T,
): readonly [T | undefined, (next: T) => void, () => void] {
  const store = useStore();
  const [value, setValue] = useState<T>();
  const make = useRef(first);
  useEffect(() => {
    if (key === undefined) return;
    let isCurrent = true;
    void store
      .readDraft(key)
      .catch(() => undefined)
      .then((kept) => {
        // Own JSON of this build or one before it: a shape that no longer fits is begun afresh by the screen.
        if (isCurrent) setValue({ ...make.current(), ...(isObject(kept) ? (kept as Partial<T>) : {}) });
      });
    return () => {
      isCurrent = false;
    };
  }, [store, key]);
  const change = useCallback(
    (next: T) => {
      setValue(next);
      if (key !== undefined) void store.saveDraft(key, next).catch(() => {});
    },
    [store, key],
  );
  const drop = useCallback(() => {
    if (key !== undefined) void store.dropDraft(key).catch(() => {});
  }, [store, key]);
  return [value, change, drop];
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
