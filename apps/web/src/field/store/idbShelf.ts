import { deleteDB, type IDBPDatabase, openDB } from 'idb';
import { type Shelf, ShelfFullError, type ShelfRows, TABLES, type Table } from './shelf.ts';

/** Raised with every change of the tables; `upgrade` takes any older one to it and loses nothing. */
const VERSION = 2;

type Schema = { [K in keyof ShelfRows]: { key: string; value: ShelfRows[K] } };
type Database = IDBPDatabase<Schema>;

export interface IdbShelfEvents {
  /** Another tab runs a newer build and needs this one to let go. */
  readonly onOutdated: () => void;
}

/** Opens (or makes) the database of this name. Written transactions ask the browser to flush to the disk before they count. */
export async function openIdbShelf(name: string, events: IdbShelfEvents): Promise<Shelf> {
  const db: Database = await openDB<Schema>(name, VERSION, {
    upgrade(database) {
      for (const table of TABLES)
        if (!database.objectStoreNames.contains(table)) database.createObjectStore(table);
    },
    blocking() {
      db.close();
      events.onOutdated();
    },
  });
  return {
    async transact(tables, mode, use) {
      // `strict`: resolved means flushed, not only handed to the system (Indexed Database API 3.0, transaction durability hint).
      const tx =
        mode === 'read'
          ? db.transaction([...tables], 'readonly')
          : db.transaction([...tables], 'readwrite', {
              durability: mode === 'write' ? 'strict' : 'relaxed',
            });
      // Its rejection is looked at below; here it must not count as unheard.
      tx.done.catch(() => {});
      try {
        const answer = await use({
          get: (table, key) => tx.objectStore(table).get(key),
          // The library names the same type by another way that the compiler cannot follow through a type parameter.
          list: <K extends Table>(table: K) =>
            tx.objectStore(table).getAll() as Promise<readonly ShelfRows[K][]>,
          keys: (table) => tx.objectStore(table).getAllKeys(),
          put: async (table, key, row) => {
            const store = tx.objectStore(table);
            if (store.put === undefined) throw readOnly();
            await store.put(row, key);
          },
          delete: async (table, key) => {
            const store = tx.objectStore(table);
            if (store.delete === undefined) throw readOnly();
            await store.delete(key);
          },
          clear: async (table) => {
            const store = tx.objectStore(table);
            if (store.clear === undefined) throw readOnly();
            await store.clear();
          },
        });
        await tx.done;
        return answer;
      } catch (error) {
        if (tx.error === null) abortQuietly(tx);
        const cause = tx.error ?? error;
        throw isFull(cause) || isFull(error) ? new ShelfFullError('no room left', { cause }) : error;
      }
    },
    close: () => db.close(),
  };
}

/** Removes the database of this name with all that is in it. */
export function deleteIdbShelf(name: string): Promise<void> {
  return deleteDB(name);
}

function readOnly(): TypeError {
  return new TypeError('a write in a transaction that was opened for reading');
}

function abortQuietly(tx: { abort(): void }): void {
  try {
    tx.abort();
  } catch {
    // It has ended already.
  }
}

function isFull(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'QuotaExceededError';
}
