import { dayToText, foldProperty } from '@sillwatch/trade';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { createFieldStore, type FieldDeps } from '../../src/field/store/fieldStore.ts';
import { createMemoryShelf } from '../../src/field/store/memoryShelf.ts';
import { Notebook } from '../../src/field/store/notebook.ts';
import { storePhoto } from '../../src/field/store/photos.ts';
import type { FieldStore } from '../../src/field/store/port.ts';
import { type Shelf, ShelfFullError } from '../../src/field/store/shelf.ts';
import { createCell } from '../../src/field/store/watch.ts';
import { FIRM, personOf } from './support/office.ts';
import { createRandom, meOf } from './support/phone.ts';
import { PROPERTY, seenBody, stationOf, yardFacts } from './support/yard.ts';

const ME = meOf(personOf('ana'));
const MORNING = Date.UTC(2026, 5, 1, 13);

interface Bench {
  store: FieldStore;
  notebook: Notebook;
  now: number;
  /** Writes of a record fail for want of room while it is true. */
  isFull: boolean;
}
let bench: Bench;
let disk: Shelf;

async function open(me = ME): Promise<void> {
  const random = createRandom(11);
  const randomBytes = (count: number) => Uint8Array.from({ length: count }, () => Math.floor(random() * 256));
  const shelf: Shelf = {
    transact: (tables, mode, use) => {
      if (bench.isFull && mode === 'write' && tables.includes('outbox') && tables.includes('device'))
        return Promise.reject(new ShelfFullError('no room'));
      return disk.transact(tables, mode, use);
    },
    close: () => {},
  };
  bench = { ...bench, now: bench?.now ?? MORNING, isFull: false };
  const notebook = await Notebook.open(
    shelf,
    {
      now: () => bench.now,
      timeText: (ms) => new Date(ms).toISOString().replace('Z', '+00:00'),
      randomBytes,
      announce: () => {},
    },
    me,
  );
  const deps: FieldDeps = {
    notebook,
    engine: undefined,
    makeSmall: async (picture) => {
      const whole = new Uint8Array(await picture.arrayBuffer());
      return { whole, thumbnail: whole.slice(0, 4), mediaType: 'image/jpeg' };
    },
    lock: { now: () => bench.now, randomBytes, rounds: 1000 },
    isOnline: createCell(false),
    estimate: async () => ({ persisted: false, usedBytes: 1, quotaBytes: 1_000_000_000 }),
    persist: async () => true,
    update: createCell({ ready: false, offlineReady: true }),
    applyUpdate: async () => {},
    takeAlong: async () => {},
    forget: vi.fn(async () => {}),
    close: () => {},
  };
  bench.notebook = notebook;
  bench.store = await createFieldStore(deps);
}

/** As fetched from the server: the firm's facts and the property's. */
async function fetchYard(): Promise<void> {
  const facts = yardFacts(FIRM, 'owner').map((fact, index) => ({
    ...fact,
    receipt: { seq: index + 1, receivedAt: '2026-01-11T00:00:00.000Z' },
  }));
  const own = facts.filter(({ property }) => property === null);
  await bench.notebook.applyFirm({
    me: ME,
    facts: own,
    upTo: 2,
    names: [['owner', 'Ola (invented)']],
    clockOffMs: 0,
  });
  await bench.notebook.applyFacts([
    { property: PROPERTY, facts: facts.filter(({ property }) => property === PROPERTY), upTo: facts.length },
  ]);
}

const look = (number = 1, note = '') =>
  bench.store.record('station seen', PROPERTY, stationOf(number), seenBody('visit', note));
const settled = async () => {
  for (let turn = 0; turn < 20; turn += 1) await new Promise((resolve) => setImmediate(resolve));
};
const yard = async () => {
  const watched = bench.store.property(PROPERTY);
  await settled();
  return watched.get();
};

beforeEach(async () => {
  disk = createMemoryShelf();
  bench = { now: MORNING } as Bench;
  await open();
  await fetchYard();
  await settled();
});

describe('what the screens see', () => {
  it('is the fold of fetched and own facts, and follows a record, its undo and its correction', async () => {
    const before = await yard();
    expect(before?.state.stations.length).toBe(24);
    expect(before?.due?.items.length).toBeGreaterThan(24);
    const told = vi.fn();
    bench.store.property(PROPERTY).subscribe(told);
    const fact = await look(3);
    let now = await yard();
    expect(told).toHaveBeenCalled();
    const third = () => now?.state.stations.find(({ number }) => number === 3);
    expect(third()?.lastOpenedOn).toBe(now?.today);
    expect([...(now?.unsent ?? [])]).toEqual([fact.id]);
    expect(JSON.stringify(foldProperty(now?.facts ?? []).visits)).toBe(JSON.stringify(now?.state.visits));

    const undone = await bench.store.undo(fact.id, 'wrong station');
    now = await yard();
    expect(third()?.lastOpenedOn).toBeNull();
    expect(undone).toMatchObject({
      kind: 'fact corrected',
      station: stationOf(3),
      body: { corrects: fact.id, body: null },
    });
    // Both stay readable.
    expect(now?.facts.map(({ id }) => id)).toEqual(expect.arrayContaining([fact.id, undone.id]));
    await bench.store.undo(undone.id, 'it was right after all');
    now = await yard();
    expect(third()?.lastOpenedOn).toBe(now?.today);
    await bench.store.correct(fact.id, 'it was yesterday', fact.body, '2026-05-31T10:00:00-04:00');
    now = await yard();
    expect(dayToText(third()?.lastOpenedOn ?? now?.today ?? (0 as never))).toBe('2026-05-31');
  });

  it('lists the property with what is owed, and the same after a restart without folding', async () => {
    await look(1);
    await settled();
    const [row] = bench.store.properties.get();
    expect(row).toMatchObject({ property: PROPERTY, stations: 24, unsent: true });
    expect(row?.owed).toBe(23);
    const before = JSON.stringify(bench.store.properties.get());
    const reads = vi.spyOn(Notebook.prototype, 'readHeld');
    await open();
    await settled();
    expect(JSON.stringify(bench.store.properties.get())).toBe(before);
    expect(reads).not.toHaveBeenCalled();
    // Another day, another list.
    bench.now += 86_400_000;
    await look(2);
    await settled();
    expect(reads).toHaveBeenCalled();
    reads.mockRestore();
    expect(bench.store.properties.get()[0]?.owed).toBe(22);
    expect(bench.store.days.get().map(({ day }) => day)[0]).toBe('2026-06-02');
    expect(bench.store.days.get()[0]?.due.map(({ property }) => property)).toEqual([PROPERTY]);
  });

  it('gives one visit id a property and day', async () => {
    const first = await bench.store.visitAt(PROPERTY);
    expect(await bench.store.visitAt(PROPERTY)).toBe(first);
    await open();
    expect(await bench.store.visitAt(PROPERTY)).toBe(first);
    bench.now += 86_400_000;
    expect(await bench.store.visitAt(PROPERTY)).not.toBe(first);
  });
});

describe('a record', () => {
  it('has the next number and a later clock, also when the phone was set back', async () => {
    const a = await look(1);
    bench.now -= 3 * 86_400_000;
    const b = await look(2);
    await open();
    const c = await look(3);
    expect([a.seq, b.seq, c.seq]).toEqual([1, 2, 3]);
    expect(new Set([a.device, b.device, c.device]).size).toBe(1);
    expect(a.clock < b.clock && b.clock < c.clock).toBe(true);
    expect(b.at < a.at).toBe(true);
  });

  it('is refused where it would be refused at the server, and then nothing is stored', async () => {
    const bad = { ...seenBody('visit'), task: 'a dance' };
    await expect(
      bench.notebook.record([{ kind: 'station seen', property: PROPERTY, station: 'x', body: bad }]),
    ).rejects.toMatchObject({ code: 'malformed' });
    expect(bench.notebook.own).toEqual([]);
    expect((await look(1)).seq).toBe(1);
  });

  it('makes room by what the server has, or says that there is none and keeps the draft', async () => {
    const { hash } = await bench.store.addPhoto(new Blob([new Uint8Array([1, 2, 3])]));
    await disk.transact(['photos'], 'write', async (tx) => {
      const row = await tx.get('photos', hash);
      if (row !== undefined) await tx.put('photos', hash, { ...row, state: 'sent' });
    });
    const waiting = await storePhoto(bench.notebook, {
      whole: new Uint8Array([9, 9]),
      thumbnail: new Uint8Array([9]),
      mediaType: 'image/jpeg',
    });
    await bench.store.saveDraft('station 1', { answered: 2 });
    bench.isFull = true;
    await expect(
      bench.store.record('station seen', PROPERTY, stationOf(1), seenBody('visit'), { draft: 'station 1' }),
    ).rejects.toMatchObject({ code: 'storage full' });
    const pictures = await disk.transact(['pictures'], 'read', (tx) => tx.keys('pictures'));
    expect(pictures).toEqual([waiting.hash]);
    expect(await bench.store.readDraft('station 1')).toEqual({ answered: 2 });
    bench.isFull = false;
    await bench.store.record('station seen', PROPERTY, stationOf(1), seenBody('visit'), {
      draft: 'station 1',
    });
    expect(await bench.store.readDraft('station 1')).toBeUndefined();
  });

  it('goes into the file for the office with its picture while no server has it', async () => {
    const fact = await look(1, 'only here');
    const { hash } = await bench.store.addPhoto(new Blob([new Uint8Array([255, 216, 255, 1])]));
    const file = JSON.parse(await (await bench.store.exportUnsent()).text());
    expect(file.facts).toEqual([fact]);
    expect(file.pictures).toEqual([{ hash, mediaType: 'image/jpeg', base64: '/9j/AQ==' }]);
    expect(await bench.store.signOut()).toBe('refused');
    expect(await bench.store.signOut({ evenUnsent: true })).toBe('signed out');
  });
});

describe('the lock', () => {
  it('keeps out who does not know the PIN, over a restart, and makes guessing slow', async () => {
    expect(await bench.store.setPin('12')).toBe('wrong');
    expect(await bench.store.setPin('4711')).toBe('done');
    await open();
    expect(bench.store.lock.get()).toEqual({ hasPin: true, locked: true });
    await expect(look(1)).rejects.toMatchObject({ code: 'locked' });
    for (let guess = 0; guess < 3; guess += 1)
      expect(await bench.store.unlock('0000')).toEqual({ answer: 'wrong', waitSeconds: 0 });
    expect(await bench.store.unlock('0000')).toEqual({ answer: 'wrong', waitSeconds: 30 });
    // The right one has to wait as well, also after a restart.
    await open();
    expect(await bench.store.unlock('4711')).toEqual({ answer: 'wrong', waitSeconds: 30 });
    bench.now += 31_000;
    expect(await bench.store.unlock('4711')).toEqual({ answer: 'open' });
    expect((await look(1)).seq).toBe(1);
    expect(await bench.store.setPin(null, '1111')).toBe('wrong');
    expect(await bench.store.setPin(null, '4711')).toBe('done');
    const kept = await disk.transact(['lock'], 'read', (tx) => tx.list('lock'));
    expect(kept).toEqual([]);
  });

  it('is lifted for who has shown by other means who they are, wrong tries and all', async () => {
    await bench.store.setPin('4711');
    bench.store.lockNow();
    for (let guess = 0; guess < 5; guess += 1) await bench.store.unlock('0000');
    await bench.store.liftLock();
    expect(bench.store.lock.get()).toEqual({ hasPin: false, locked: false });
    await open();
    expect(bench.store.lock.get()).toEqual({ hasPin: false, locked: false });
    expect((await look(1)).seq).toBe(1);
  });
});
