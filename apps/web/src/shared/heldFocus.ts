import { type RefObject, useEffect, useRef } from 'react';

/**
 * Where focus goes when a press took away the button that was pressed: without it the page's keys are deaf and one
 * begins at its top again. `turn` is what the press changed; focus that stands somewhere is left there.
 */
export function useHeldFocus<E extends HTMLElement>(turn: unknown): RefObject<E | null> {
  const ref = useRef<E>(null);
  const seen = useRef(turn);
  useEffect(() => {
    if (seen.current === turn) return;
    seen.current = turn;
    if (document.activeElement === document.body) ref.current?.focus({ preventScroll: true });
  }, [turn]);
  return ref;
}
