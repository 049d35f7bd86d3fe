import type { AnyFact } from '@sillwatch/trade';
import type { Engine } from '../sync/engine.ts';
import { isPin, type LockDeps, readLock, tryPin, writePin } from './lock.ts';
import type { Notebook } from './notebook.ts';
import { type MakeSmall, storePhoto } from './photos.ts';
import {
  type FieldPropertyRow,
  type FieldStore,
  type LockState,
  RecordError,
  type StorageState,
  type SyncStatus,
  type UpdateState,
  type WantedReport,
  type Watched,
} from './port.ts';
import { createPropertyViews, todayOf } from './propertyViews.ts';
import type { PhotoRow } from './shelf.ts';
import { exportOf } from './unsent.ts';
import { daysView, firmView } from './views.ts';
import { createCell } from './watch.ts';

/** What the store takes from the browser (open.ts) or from nobody (practice.ts). */
export interface FieldDeps {
  readonly notebook: Notebook;
  readonly engine: Engine | undefined;
  readonly makeSmall: MakeSmall;
  readonly lock: LockDeps;
  readonly isOnline: Watched<boolean>;
  readonly estimate: () => Promise<Omit<StorageState, 'tight'>>;
  readonly persist: () => Promise<boolean>;
  readonly update: Watched<UpdateState>;
  readonly applyUpdate: () => Promise<void>;
  readonly takeAlong: (property: string) => Promise<void>;
  /** Ends the session and removes the person's database. */
  readonly forget: () => Promise<void>;
  readonly close: () => void;
}

/** A clock that is off by less is the drift of an honest one (`DRIFT_ALLOWED_MS` of the trade room). */
const CLOCK_MINUTES = 5;
const TIGHT_BYTES = 50_000_000;

/** The screens' store over an open notebook. */
export async function createFieldStore(deps: FieldDeps): Promise<FieldStore> {
  const { notebook, engine } = deps;
  const properties = createPropertyViews(notebook);
  // Asked for at once and together: each is a way to the disk and back, before the first screen.
  const [lockRow, photosFound] = await Promise.all([readLock(notebook.shelf), countWaiting(notebook)]);
  const me = createCell(notebook.who.me);
  const firm = createCell(firmView(notebook.firm));
  const rows = createCell<readonly FieldPropertyRow[]>([]);
  const days = createCell(daysView(todayOf(notebook), notebook.rounds(), []));
  const photosWaiting = createCell(photosFound);
  const sync = createCell<SyncStatus>(statusOf(deps, photosFound));
  const refused = createCell(refusedOf(notebook));
  const reports = createCell<readonly WantedReport[]>(notebook.reports);
  const storage = createCell<StorageState>({
    persisted: null,
    usedBytes: null,
    quotaBytes: null,
    tight: false,
  });
  const lock = createCell<LockState>({ hasPin: lockRow !== undefined, locked: lockRow !== undefined });
  const putPin = async (pin: string | null): Promise<void> => {
    await writePin(notebook.shelf, pin, deps.lock);
    lock.set({ hasPin: pin !== null, locked: false });
  };

  const countPhotos = async (): Promise<void> => {
    photosWaiting.set(await countWaiting(notebook));
  };
  const measure = async (): Promise<void> => {
    const found = await deps.estimate();
    const left =
      found.quotaBytes === null || found.usedBytes === null ? null : found.quotaBytes - found.usedBytes;
    const tight =
      notebook.isFull || (left !== null && left < Math.min(TIGHT_BYTES, (found.quotaBytes ?? 0) / 10));
    const before = storage.get();
    const isSame = before.tight === tight && before.persisted === found.persisted;
    if (!isSame || before.usedBytes !== found.usedBytes) storage.set({ ...found, tight });
  };

  let firmSource = notebook.firm;
  let meText = '';
  const refresh = (): void => {
    if (notebook.firm !== firmSource) {
      firmSource = notebook.firm;
      firm.set(firmView(notebook.firm));
      properties.firmChanged();
    }
    const text = JSON.stringify(notebook.who.me);
    if (text !== meText) {
      meText = text;
      me.set(notebook.who.me);
    }
    reports.set(keepIfSame<readonly WantedReport[]>(reports.get(), notebook.reports));
    refused.set(keepIfSame(refused.get(), refusedOf(notebook)));
    sync.set(statusOf(deps, photosWaiting.get()));
    properties.refresh();
    void readRows();
  };

  const showRows = (next: readonly FieldPropertyRow[]): void => {
    rows.set(keepIfSame(rows.get(), next));
    days.set(keepIfSame(days.get(), daysView(todayOf(notebook), notebook.rounds(), next)));
  };
  let reading = false;
  let readAgain = false;
  /** Row by row in the background, the watched and the changed ones only read anew. */
  const readRows = async (): Promise<void> => {
    if (reading) {
      readAgain = true;
      return;
    }
    reading = true;
    try {
      do {
        readAgain = false;
        const isFirst = rows.get().length === 0;
        const next = await properties.rows(placesOf(notebook), (some) => {
          if (isFirst) showRows(some);
        });
        showRows(next);
      } while (readAgain);
    } catch {
      // The shelf was closed under the reading: there is nothing left to show.
    } finally {
      reading = false;
    }
  };

  const unsubscribe = [
    notebook.subscribe(refresh),
    photosWaiting.subscribe(refresh),
    deps.isOnline.subscribe(refresh),
    engine?.state.subscribe(() => {
      refresh();
      if (!engine.state.get().running) void countPhotos().catch(() => {});
    }),
  ];
  refresh();
  void measure().catch(() => {});

  const guard = (): void => {
    if (lock.get().locked) throw new RecordError('locked', 'The app is locked.');
  };
  const write = async (fact: Parameters<Notebook['record']>[0][number]): Promise<AnyFact> => {
    guard();
    const [stored] = await notebook.record([fact]);
    if (stored === undefined) throw new RecordError('storage failed', 'nothing was stored');
    engine?.poke();
    return stored;
  };
  const correct: FieldStore['correct'] = async (factId, why, body, at = null, options = {}) => {
    const target = await notebook.findFact(factId);
    if (target === undefined)
      throw new RecordError('not found', 'The record to correct is not on this phone.');
    return write({
      kind: 'fact corrected',
      property: target.property,
      station: target.station,
      body: { corrects: factId, why, body, at },
      ...options,
    });
  };

  return {
    me,
    days,
    properties: rows,
    firm,
    property: properties.watch,
    takeAlong: deps.takeAlong,
    record: (kind, property, station, body, options = {}) =>
      write({ kind, property, station, body, ...options }),
    undo: (factId, why, options) => correct(factId, why, null, null, options),
    correct,
    visitAt: (property) => visitAt(notebook, property),
    newId: () => notebook.newId(),
    async addPhoto(picture) {
      guard();
      const ref = await storePhoto(notebook, await deps.makeSmall(picture));
      await countPhotos();
      engine?.poke();
      return ref;
    },
    async photoUrl(hash, size) {
      const [row, bytes] = await notebook.shelf.transact(
        ['photos', 'pictures', 'thumbnails'],
        'read',
        async (tx): Promise<[PhotoRow | undefined, Uint8Array<ArrayBuffer> | undefined]> => [
          await tx.get('photos', hash),
          await tx.get(size === 'whole' ? 'pictures' : 'thumbnails', hash),
        ],
      );
      if (bytes === undefined) return undefined;
      return URL.createObjectURL(new Blob([bytes], { type: row?.mediaType ?? 'image/jpeg' }));
    },
    sync,
    async syncNow() {
      await engine?.syncNow();
    },
    refused,
    async sendAgain(ids) {
      await notebook.moveRefused(ids, 'waiting');
      engine?.poke();
    },
    setAside: (id) => notebook.moveRefused([id], 'set aside'),
    async wantReport(property, visit) {
      guard();
      await notebook.wantReport(property, visit);
    },
    reports,
    dropReport: (visit) => notebook.dropReport(visit),
    exportUnsent: () => exportOf(notebook),
    storage,
    async askToPersist() {
      const granted = await deps.persist();
      await measure();
      return granted;
    },
    lock,
    async setPin(pin, old) {
      if (pin !== null && !isPin(pin)) return 'wrong';
      if (lock.get().hasPin && (await tryPin(notebook.shelf, old ?? '', deps.lock)).answer !== 'open')
        return 'wrong';
      await putPin(pin);
      return 'done';
    },
    async unlock(pin) {
      const answer = await tryPin(notebook.shelf, pin, deps.lock);
      if (answer.answer === 'open') lock.set({ ...lock.get(), locked: false });
      return answer;
    },
    lockNow() {
      if (lock.get().hasPin) lock.set({ hasPin: true, locked: true });
    },
    liftLock: () => putPin(null),
    saveDraft: (key, value) =>
      notebook.shelf.transact(['drafts'], 'write soon', (tx) => tx.put('drafts', key, value)),
    readDraft: (key) => notebook.shelf.transact(['drafts'], 'read', (tx) => tx.get('drafts', key)),
    dropDraft: (key) => notebook.shelf.transact(['drafts'], 'write soon', (tx) => tx.delete('drafts', key)),
    update: deps.update,
    applyUpdate: deps.applyUpdate,
    async signOut({ evenUnsent = false } = {}) {
      await notebook.reload();
      await countPhotos();
      const isUnsent = notebook.own.some(({ state }) => state === 'waiting' || state === 'refused');
      if ((isUnsent || photosWaiting.get() > 0) && !evenUnsent) return 'refused';
      engine?.stop();
      for (const one of unsubscribe) one?.();
      await deps.forget();
      return 'signed out';
    },
    close() {
      engine?.stop();
      for (const one of unsubscribe) one?.();
      deps.close();
    },
  };
}

async function countWaiting(notebook: Notebook): Promise<number> {
  const photos = await notebook.shelf.transact(['photos'], 'read', (tx) => tx.list('photos'));
  return photos.filter(({ state }) => state === 'waiting').length;
}

/** The properties of today's round. */
function placesOf(notebook: Notebook): ReadonlySet<string> {
  const day = todayOf(notebook);
  const visits = notebook.rounds().find((round) => round.day === day)?.visits ?? [];
  return new Set(visits.map(({ property }) => property));
}

/** One visit = one person at one property on one day: the round's own id, else one made here and kept. */
async function visitAt(notebook: Notebook, property: string): Promise<string> {
  const day = todayOf(notebook);
  const planned = notebook
    .rounds()
    .find((round) => round.day === day)
    ?.visits.find((visit) => visit.property === property);
  if (planned !== undefined) return planned.visit;
  const fresh = notebook.newId();
  return notebook.shelf.transact(['visits'], 'write', async (tx) => {
    const known = await tx.get('visits', property);
    if (known?.day === day) return known.visit;
    await tx.put('visits', property, { visit: fresh, day });
    return fresh;
  });
}

function statusOf({ notebook, engine, isOnline }: FieldDeps, photosWaiting: number): SyncStatus {
  const state = engine?.state.get();
  const off = notebook.log.clockOffMs === null ? null : Math.round(notebook.log.clockOffMs / 60_000);
  return {
    waiting: notebook.own.filter((row) => row.state === 'waiting').length,
    photosWaiting,
    refused: notebook.own.filter((row) => row.state === 'refused').length,
    lastSentAt: notebook.log.lastSentAt,
    lastFetchedAt: notebook.log.lastFetchedAt,
    online: isOnline.get(),
    running: state?.running ?? false,
    problem: notebook.who.standing === 'former' ? 'no longer of the firm' : (state?.problem ?? null),
    nextTryAt:
      state?.nextTryAt === null || state === undefined ? null : new Date(state.nextTryAt).toISOString(),
    clockOffMinutes: off !== null && Math.abs(off) >= CLOCK_MINUTES ? off : null,
  };
}

function refusedOf(notebook: Notebook) {
  return notebook.own.flatMap(({ fact, state, refusal }) =>
    state === 'refused' && refusal !== null
      ? [{ fact, code: refusal.code, detail: refusal.detail, refusedAt: refusal.at }]
      : [],
  );
}

/** A list that says the same stays the same object, so that no screen draws anew for nothing. */
function keepIfSame<T>(before: T, next: T): T {
  return JSON.stringify(before) === JSON.stringify(next) ? before : next;
}
