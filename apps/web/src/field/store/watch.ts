import type { Watched } from './port.ts';

/** A watched value that is set by hand. */
export interface Cell<T> extends Watched<T> {
  set(value: T): void;
}

export function createCell<T>(first: T): Cell<T> {
  let value = first;
  const listeners = new Set<() => void>();
  return {
    get: () => value,
    set(next) {
      if (Object.is(next, value)) return;
      value = next;
      for (const listener of [...listeners]) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
