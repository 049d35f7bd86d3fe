import { type Day, findDay } from '@sillwatch/trade';
import type { Notebook } from './notebook.ts';
import type { FieldProperty, FieldPropertyRow, Watched } from './port.ts';
import type { HeldRow, ListedRow } from './shelf.ts';
import { firmView, propertyView, rowView } from './views.ts';
import { type Cell, createCell } from './watch.ts';

/** Folded properties kept in memory besides those that a screen watches. */
const MOST_KEPT = 24;

interface Kept {
  readonly key: string;
  readonly view: Promise<FieldProperty | undefined>;
}

/** `YYYY-MM-DD` on this phone's calendar. */
export function todayOf(notebook: Notebook): string {
  return notebook.deps.timeText(notebook.deps.now()).slice(0, 10);
}

/** Folded views of properties, each made once for a state of its facts and handed to the screens and the list alike. */
export function createPropertyViews(notebook: Notebook) {
  const watched = new Map<string, Cell<FieldProperty | undefined>>();
  const kept = new Map<string, Kept>();
  const heldRows = new Map<
    string,
    { readonly version: number; readonly row: Promise<HeldRow | undefined> }
  >();
  // Begun before anybody asks: the first screen is made of it.
  const listed = readListed(notebook);
  listed.catch(() => {});
  let firm = firmView(notebook.firm);
  let firmVersion = 0;
  const todayIn = (timeZone: string): Day => dayIn(notebook.deps.now(), timeZone, todayOf(notebook));
  const keyOf = (property: string): string =>
    `${notebook.heldVersion(property)} ${firmVersion} ${todayOf(notebook)} ${notebook.log.lastFetchedAt === null}`;

  /** What was fetched stays in memory while own facts are added to it. */
  const heldOf = (property: string): Promise<HeldRow | undefined> => {
    const version = notebook.fetchVersion(property);
    const known = heldRows.get(property);
    if (known?.version === version) return known.row;
    const row = notebook.readHeld(property).then((found) => {
      if (found !== undefined) notebook.noteSeen(property, found.facts);
      return found;
    });
    heldRows.set(property, { version, row });
    return row;
  };
  const viewOf = (property: string): Promise<FieldProperty | undefined> => {
    const key = keyOf(property);
    const known = kept.get(property);
    if (known?.key === key) return known.view;
    const view = heldOf(property).then((held) =>
      propertyView(property, held, notebook.own, firm, todayIn, notebook.log.lastFetchedAt),
    );
    kept.delete(property);
    kept.set(property, { key, view });
    for (const [oldest] of kept) {
      if (kept.size <= MOST_KEPT) break;
      if (watched.has(oldest)) continue;
      kept.delete(oldest);
      heldRows.delete(oldest);
    }
    return view;
  };
  const load = async (property: string, cell: Cell<FieldProperty | undefined>): Promise<void> => {
    const view = viewOf(property);
    const found = await view;
    // What was asked for later is what counts.
    if (kept.get(property)?.view === view) cell.set(found);
  };

  return {
    watch(property: string): Watched<FieldProperty | undefined> {
      const known = watched.get(property);
      if (known !== undefined) return known;
      const cell = createCell<FieldProperty | undefined>(undefined);
      watched.set(property, cell);
      void load(property, cell).catch(() => {});
      return cell;
    },
    /** The firm's own facts changed: profiles and models may have. */
    firmChanged(): void {
      firm = firmView(notebook.firm);
      firmVersion += 1;
    },
    refresh(): void {
      for (const [property, cell] of watched)
        if (kept.get(property)?.key !== keyOf(property)) void load(property, cell).catch(() => {});
    },
    /** One row a property on this phone; `first` are read before the others, and `onSome` is called on the way. */
    async rows(first: ReadonlySet<string>, onSome: (rows: readonly FieldPropertyRow[]) => void) {
      const kept = await listed;
      const keys = lastingKeys(notebook);
      const ordered = [...keys.keys()].sort((a, b) => Number(first.has(b)) - Number(first.has(a)));
      const made: ListedRow[] = [];
      const found: FieldPropertyRow[] = [];
      const missing: string[] = [];
      for (const property of ordered) {
        const known = kept.get(property);
        if (known !== undefined && known.key === keys.get(property)) found.push(known.row);
        else missing.push(property);
      }
      if (missing.length > 12 && found.length > 0) onSome(found.slice());
      for (const property of missing) {
        const view = await viewOf(property);
        if (view === undefined) continue;
        const one = { property, key: keys.get(property) ?? '', row: rowView(view) };
        kept.set(property, one);
        made.push(one);
        found.push(one.row);
        if (made.length % 12 === 0) onSome(found.slice());
      }
      if (made.length > 0) await writeListed(notebook, made, new Set(ordered));
      return found;
    },
  };
}

/** Everything that a line of the list is made of, in words that mean the same after a restart. */
function lastingKeys(notebook: Notebook): ReadonlyMap<string, string> {
  const day = `${todayOf(notebook)} ${notebook.firm.upTo}`;
  const keys = new Map(notebook.marks.map(({ property, upTo }) => [property, `${day} ${upTo}`]));
  for (const { fact, state } of notebook.own) {
    if (fact.property === null || (state !== 'waiting' && state !== 'accepted')) continue;
    keys.set(fact.property, `${keys.get(fact.property) ?? day} ${fact.seq}${state.charAt(0)}`);
  }
  return keys;
}

async function readListed(notebook: Notebook): Promise<Map<string, ListedRow>> {
  const rows = await notebook.shelf.transact(['listed'], 'read', (tx) => tx.list('listed'));
  return new Map(rows.map((row) => [row.property, row]));
}

function writeListed(
  notebook: Notebook,
  made: readonly ListedRow[],
  here: ReadonlySet<string>,
): Promise<void> {
  return notebook.shelf.transact(['listed'], 'write soon', async (tx) => {
    for (const one of made) await tx.put('listed', one.property, one);
    for (const property of await tx.keys('listed'))
      if (!here.has(property)) await tx.delete('listed', property);
  });
}

/** The day it is in this zone; an unknown zone counts as this phone's own. */
function dayIn(ms: number, timeZone: string, here: string): Day {
  const day = findDay(textIn(ms, timeZone)) ?? findDay(here);
  if (day === undefined) throw new Error('this phone does not know what day it is');
  return day;
}

const formats = new Map<string, Intl.DateTimeFormat | undefined>();
function textIn(ms: number, timeZone: string): string {
  if (!formats.has(timeZone)) {
    try {
      // Sweden writes days as ISO 8601 does.
      formats.set(timeZone, new Intl.DateTimeFormat('sv-SE', { timeZone, dateStyle: 'short' }));
    } catch {
      formats.set(timeZone, undefined);
    }
  }
  return formats.get(timeZone)?.format(ms) ?? '';
}
