import type { UpdateState, Watched } from '../store/port.ts';
import { createCell } from '../store/watch.ts';

export interface AppUpdate {
  readonly state: Watched<UpdateState>;
  /** Puts the waiting version in charge; every tab of the app then loads anew, on it. */
  apply(): Promise<void>;
}

/** A phone that stays open all day still learns of a new version. */
const LOOK_EVERY_MS = 60 * 60_000;
/** A version that was asked to take over has done so by then, unless the browser left it waiting. */
const TAKE_OVER_MS = 3000;
/** How often this tab has asked the waiting version to take over since it was told to. */
const ASKED = 'sillwatch-take-over';
const MOST_ASKED = 5;
/** Names what this tab was last loaded anew for. */
const RELOADED = 'sillwatch-reloaded';

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
    if (sessionStorage.getItem(ASKED) !== null) takeOver(found);
    // This page was fetched from the older worker in the instant in which the newer one took over, before anything here listened.
    const { controller } = container;
    const script = document.querySelector<HTMLScriptElement>('script[type="module"][src]');
    if (controller === null || script === null || !isYard() || (await isOfBuild(controller, script.src)))
      return;
    // Once: where the browser has cleared the worker's files, the server's page comes again and again.
    if (sessionStorage.getItem(RELOADED) === script.src) return;
    sessionStorage.setItem(RELOADED, script.src);
    location.reload();
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
      if (registration === undefined || !takeOver(registration)) location.reload();
    },
  };
}

/**
 * Asks the waiting version to take over; false when none waits. Chromium may leave it waiting for minutes where the older worker was busy in that
 * instant; a page that loads makes it try again, and asks once more, a few times at most.
 */
function takeOver({ waiting }: ServiceWorkerRegistration): boolean {
  const asked = Number(sessionStorage.getItem(ASKED) ?? 0);
  sessionStorage.removeItem(ASKED);
  if (waiting === null || asked >= MOST_ASKED) return false;
  sessionStorage.setItem(ASKED, String(asked + 1));
  waiting.postMessage({ type: 'take over' });
  setTimeout(() => location.reload(), TAKE_OVER_MS);
  return true;
}

/** Pages that the worker always serves from its own build (sw.ts); elsewhere the server's page may be ahead of the worker. */
function isYard(): boolean {
  return location.pathname === '/field' || location.pathname.startsWith('/field/');
}

/** Whether a file belongs to the build of this worker, as it says itself. */
export function isOfBuild(worker: ServiceWorker, url: string): Promise<boolean> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data === true);
    worker.postMessage({ type: 'is yours', path: new URL(url).pathname }, [port2]);
  });
}
