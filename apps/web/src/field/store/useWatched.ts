import { useSyncExternalStore } from 'react';
import type { Watched } from './port.ts';

/** The present value, and a new drawing whenever it changes. */
export function useWatched<T>(watched: Watched<T>): T {
  return useSyncExternalStore(watched.subscribe, watched.get);
}
