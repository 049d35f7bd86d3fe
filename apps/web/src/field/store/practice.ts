import type { AnyFact } from '@sillwatch/trade';
import type { Me } from '../../api/types.ts';
import { localTimeText } from '../../shared/device.ts';
import { createFieldStore } from './fieldStore.ts';
import { createMemoryShelf } from './memoryShelf.ts';
import { Notebook } from './notebook.ts';
import { makeSmall } from './picture.ts';
import type { FieldStore } from './port.ts';
import type { Shelf } from './shelf.ts';
import { createCell } from './watch.ts';

export interface PracticeYard {
  readonly me: Me;
  /** Of the firm itself: profile, models, branch, a round. */
  readonly firmFacts: readonly AnyFact[];
  readonly factsByProperty: ReadonlyMap<string, readonly AnyFact[]>;
  /** default: memory, which ends with the page */
  readonly shelf?: Shelf;
}

/** The same store over a shelf of its own: it sends nothing, and nothing of it is the firm's. */
export async function createPracticeStore({
  me,
  firmFacts,
  factsByProperty,
  shelf = createMemoryShelf(),
}: PracticeYard): Promise<FieldStore> {
  const randomBytes = (count: number) => crypto.getRandomValues(new Uint8Array(count));
  const deps = {
    now: Date.now,
    timeText: (ms: number) => localTimeText(new Date(ms)),
    randomBytes,
    announce: () => {},
  };
  const notebook = await Notebook.open(shelf, deps, me);
  await notebook.applyFirm({ me, facts: firmFacts, upTo: 0, names: [[me.id, me.name]], clockOffMs: 0 });
  await notebook.applyFacts([...factsByProperty].map(([property, facts]) => ({ property, facts, upTo: 0 })));
  return createFieldStore({
    notebook,
    engine: undefined,
    makeSmall,
    lock: { now: Date.now, randomBytes },
    isOnline: createCell(true),
    estimate: async () => ({ persisted: null, usedBytes: null, quotaBytes: null }),
    persist: async () => false,
    update: createCell({ ready: false, offlineReady: true }),
    applyUpdate: async () => {},
    takeAlong: async () => {
      throw new Error('the practice yard has no server');
    },
    forget: async () => {},
    close: () => shelf.close(),
  });
}
