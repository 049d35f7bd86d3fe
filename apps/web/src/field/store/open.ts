import type { Me } from '../../api/types.ts';
import { localTimeText } from '../../shared/device.ts';
import { createEngine } from '../sync/engine.ts';
import { createLine } from '../sync/line.ts';
import { takeAlong } from '../sync/turn.ts';
import { registerWorker } from '../worker/register.ts';
import { createFieldStore } from './fieldStore.ts';
import { deleteIdbShelf, openIdbShelf } from './idbShelf.ts';
import { Notebook, type NotebookDeps } from './notebook.ts';
import { makeSmall } from './picture.ts';
import type { FieldStore } from './port.ts';
import { ONE, type Shelf } from './shelf.ts';
import { createCell } from './watch.ts';

/** Who uses the app on this phone; each person of a firm has a database of their own beside it. */
const PEOPLE = 'sillwatch-field';
const TAKEN_DAYS = 7;

let update: ReturnType<typeof registerWorker> | undefined;

/**
 * Opens the store of the person who last signed in on this phone, with or without a network; undefined = nobody has:
 * show the sign-in, then call `adoptPerson`.
 */
export async function openFieldStore(): Promise<FieldStore | undefined> {
  update ??= registerWorker();
  const me = await withPeople((people) => people.transact(['who'], 'read', (tx) => tx.get('who', ONE)));
  return me === undefined ? undefined : open(me.me, false);
}

/** After a sign-in: this person's store, as it was left, or a new one. Another person's stays beside it untouched. */
export async function adoptPerson(me: Me): Promise<FieldStore> {
  update ??= registerWorker();
  await withPeople((people) =>
    people.transact(['who'], 'write', (tx) => tx.put('who', ONE, { me, standing: 'current' })),
  );
  return open(me, true);
}

async function withPeople<T>(use: (people: Shelf) => Promise<T>): Promise<T> {
  const people = await openIdbShelf(PEOPLE, { onOutdated: () => {} });
  try {
    return await use(people);
  } finally {
    people.close();
  }
}

async function open(me: Me, isFresh: boolean): Promise<FieldStore> {
  const name = `${PEOPLE} ${me.firm.id} ${me.id}`;
  // Another tab runs a newer build or has signed out: this page is of yesterday.
  const shelf = await openIdbShelf(name, { onOutdated: () => location.reload() });
  const tabs = new BroadcastChannel(name);
  const randomBytes = (count: number) => crypto.getRandomValues(new Uint8Array(count));
  const deps: NotebookDeps = {
    now: Date.now,
    timeText: (ms) => localTimeText(new Date(ms)),
    randomBytes,
    announce: () => tabs.postMessage('changed'),
  };
  const notebook = await Notebook.open(shelf, deps, me, isFresh);
  tabs.onmessage = () => void notebook.reload().catch(() => {});

  const line = createLine((path, init) => fetch(path, init));
  const isOnline = createCell(navigator.onLine);
  const engine = createEngine({
    notebook,
    line,
    now: Date.now,
    random: Math.random,
    isOnline: () => navigator.onLine,
    alone: async (work) => {
      let ran = false;
      await navigator.locks.request(`${name} sync`, { ifAvailable: true }, async (lock) => {
        if (lock === null) return;
        ran = true;
        await work();
      });
      return ran;
    },
    setTimer: (run, ms) => {
      const timer = setTimeout(run, ms);
      return () => clearTimeout(timer);
    },
  });
  const ears = new AbortController();
  const { signal } = ears;
  window.addEventListener(
    'online',
    () => {
      isOnline.set(true);
      engine.online();
    },
    { signal },
  );
  window.addEventListener('offline', () => isOnline.set(false), { signal });
  document.addEventListener(
    'visibilitychange',
    () => {
      if (document.visibilityState === 'visible') void engine.syncNow();
    },
    { signal },
  );
  const close = (): void => {
    ears.abort();
    tabs.close();
    shelf.close();
  };
  update ??= registerWorker();
  const running = update;
  const store = await createFieldStore({
    notebook,
    engine,
    makeSmall,
    lock: { now: Date.now, randomBytes },
    isOnline,
    estimate,
    persist: async () => (await navigator.storage?.persist?.()) ?? false,
    update: running.state,
    applyUpdate: running.apply,
    takeAlong: async (property) => {
      const until = localTimeText(new Date(Date.now() + TAKEN_DAYS * 86_400_000)).slice(0, 10);
      const problem = await takeAlong(notebook, line, property, until);
      if (problem !== null) throw new Error(problem);
    },
    forget: async () => {
      close();
      await deleteIdbShelf(name);
      await withPeople((people) => people.transact(['who'], 'write', (tx) => tx.delete('who', ONE)));
      await fetch('/api/auth/sign-out', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: '{}',
      }).catch(() => {});
    },
    close,
  });
  void engine.syncNow();
  return store;
}

async function estimate() {
  const [persisted, room] = await Promise.all([
    navigator.storage?.persisted?.() ?? null,
    navigator.storage?.estimate?.() ?? {},
  ]);
  return { persisted, usedBytes: room.usage ?? null, quotaBytes: room.quota ?? null };
}
