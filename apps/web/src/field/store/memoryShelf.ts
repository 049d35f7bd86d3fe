import type { Shelf, ShelfRows, ShelfTx, Table } from './shelf.ts';

type Rows = { readonly [K in Table]: Map<string, ShelfRows[K]> };

/** A shelf that forgets when it is let go; transactions are whole and one after the other, as in IndexedDB. */
export function createMemoryShelf(): Shelf {
  let kept = emptyRows();
  let last: Promise<unknown> = Promise.resolve();
  return {
    transact(_tables, mode, use) {
      const turn = last.then(async () => {
        const rows = mode !== 'read' ? copyRows(kept) : kept;
        const answer = await use(createTx(rows));
        if (mode !== 'read') kept = rows;
        return answer;
      });
      last = turn.catch(() => {});
      return turn;
    },
    close() {},
  };
}

function emptyRows(): Rows {
  return {
    device: new Map(),
    who: new Map(),
    firm: new Map(),
    outbox: new Map(),
    held: new Map(),
    marks: new Map(),
    listed: new Map(),
    photos: new Map(),
    pictures: new Map(),
    thumbnails: new Map(),
    drafts: new Map(),
    visits: new Map(),
    lock: new Map(),
    log: new Map(),
    reports: new Map(),
  };
}

function copyRows(rows: Rows): Rows {
  return {
    device: new Map(rows.device),
    who: new Map(rows.who),
    firm: new Map(rows.firm),
    outbox: new Map(rows.outbox),
    held: new Map(rows.held),
    marks: new Map(rows.marks),
    listed: new Map(rows.listed),
    photos: new Map(rows.photos),
    pictures: new Map(rows.pictures),
    thumbnails: new Map(rows.thumbnails),
    drafts: new Map(rows.drafts),
    visits: new Map(rows.visits),
    lock: new Map(rows.lock),
    log: new Map(rows.log),
    reports: new Map(rows.reports),
  };
}

function createTx(rows: Rows): ShelfTx {
  return {
    get: async (table, key) => rows[table].get(key),
    list: async (table) => [...rows[table].entries()].sort(byKey).map(([, row]) => row),
    keys: async (table) => [...rows[table].keys()].sort(),
    put: async (table, key, row) => {
      // What is kept is a copy, as a database would keep it.
      rows[table].set(key, structuredClone(row));
    },
    delete: async (table, key) => {
      rows[table].delete(key);
    },
    clear: async (table) => rows[table].clear(),
  };
}

function byKey([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
