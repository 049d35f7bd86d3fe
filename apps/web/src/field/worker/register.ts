import type { UpdateState, Watched } from '../store/port.ts';
import { createCell } from '../store/watch.ts';

export interface AppUpdate {
  readonly state: Watched<UpdateState>;
  /** Puts the waiting version in charge; every tab of the app then loads anew, on it. */
  apply(): Promise<void>;
}

/** A phone that stays open all day still learns of a new version. */
const LOOK_EVERY_MS = 60 * 60_000;

/**
 * Registers the service worker, once a page. A new version is fetched in the background and waits: it takes over when
 * `apply` is called or the app is opened afresh, never under somebody's hands.
 */
export function registerWorker(): AppUpdate {
  const state = createCell<UpdateState>({ ready: false, offlineReady: false });
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD)
    return { state, apply: async () => location.reload() };
  const container = navigator.serviceWorker;
  let applying = false;
  let registration: ServiceWorkerRegistration | undefined;

  const look = (found: ServiceWorkerRegistration): void => {
    state.set({
      ready: found.waiting !== null && found.active !== null,
      offlineReady: found.active !== null,
    });
  };
  const start = async (): Promise<void> => {
    const found = await container.register('/sw.js', { scope: '/', updateViaCache: 'none' });
    registration = found;
    look(found);
    found.addEventListener('updatefound', () => {
      found.installing?.addEventListener('statechange', () => look(found));
    });
    void container.ready.then(() => look(found));
    setInterval(() => void found.update().catch(() => {}), LOOK_EVERY_MS);
  };
  // The first worker takes charge of the open page without a reload; a later one only after `apply`.
  // Asked of the page itself: a tab that was just opened may not have been told yet that a version waits.
  let isControlled = container.controller !== null;
  container.addEventListener('controllerchange', () => {
    const isTakenOver = applying || isControlled;
    isControlled = true;
    if (registration !== undefined) look(registration);
    if (isTakenOver) location.reload();
  });
  void start().catch(() => {
    // Without a worker the app still runs while there is a network; `offlineReady` stays false and the screens say so.
  });

  return {
    state,
    async apply() {
      applying = true;
      const waiting = registration?.waiting;
      if (waiting === null || waiting === undefined) location.reload();
      else waiting.postMessage({ type: 'take over' });
    },
  };
}
