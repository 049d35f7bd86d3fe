import type { AnyFact, OpenedFinding, StationSeenBody } from '@sillwatch/trade';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { factsOfStation, historyOf } from '../../src/desk/property/history.ts';
import { storePhoto } from '../../src/field/store/photos.ts';
import { createPropertyViews } from '../../src/field/store/propertyViews.ts';
import { exportOf } from '../../src/field/store/unsent.ts';
import { backoffMs } from '../../src/field/sync/backoff.ts';
import { createEngine } from '../../src/field/sync/engine.ts';
import { handIn } from '../../src/field/sync/handIn.ts';
import { createLine } from '../../src/field/sync/line.ts';
import { syncTurn, takeAlong } from '../../src/field/sync/turn.ts';
import type { Transport } from '../../src/field/sync/wire.ts';
import { FIRM, type Office, openOffice, personOf } from './support/office.ts';
import { createRandom, type Phone, startPhone } from './support/phone.ts';
import { PROPERTY, seenBody, stationOf, yardFacts } from './support/yard.ts';

const ANA = personOf('ana');
const OPENED: OpenedFinding = {
  reach: 'opened',
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'sound',
  housing: 'sound',
  occupants: 'none',
};
let office: Office;
beforeAll(async () => {
  office = await openOffice(false);
  await office.ledger().append(FIRM, yardFacts(FIRM, 'owner'), new Date().toISOString());
});
afterAll(() => office.end());

const lineOf = (who: Parameters<Office['fetch']>[0]) =>
  createLine((path, init) => office.fetch(who, path, init));

let phone: Phone;
let seed = 0;
beforeEach(async () => {
  seed += 1;
  phone = await startPhone(ANA, createRandom(seed));
});

const look = (station = stationOf(1), note = '') => ({
  kind: 'station seen',
  property: PROPERTY,
  station,
  body: seenBody('visit', note),
});
const isStored = async (fact: AnyFact | undefined): Promise<boolean> =>
  (await office.ledger().findFact(FIRM, fact?.id ?? '')) !== undefined;
const statesOf = () => phone.notebook().own.map(({ state }) => state);

describe('one turn', () => {
  it('without a session keeps everything and says so; with it all goes', async () => {
    const [fact] = await phone.notebook().record([look()]);
    expect(await syncTurn(phone.notebook(), lineOf(null))).toEqual({ problem: 'sign in again' });
    expect(statesOf()).toEqual(['waiting']);
    expect(phone.notebook().who.standing).toBe('current');
    expect(await syncTurn(phone.notebook(), lineOf(ANA))).toEqual({ problem: null });
    expect(statesOf()).toEqual([]);
    expect(await isStored(fact)).toBe(true);
  });

  it('sends nothing while another person is signed in, so that nothing is refused for that', async () => {
    const [fact] = await phone.notebook().record([look()]);
    const line = lineOf(personOf('ben'));
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: 'other person signed in' });
    expect(statesOf()).toEqual(['waiting']);
    expect(await isStored(fact)).toBe(false);
  });

  it('puts a refused fact in the tray with its reason and sends the others; it goes when sent again', async () => {
    const notebook = phone.notebook();
    const ghost = { ...look(), property: 'a house not entered yet' };
    const [refused, taken] = await notebook.record([ghost, look()]);
    expect(await syncTurn(notebook, lineOf(ANA))).toEqual({ problem: null });
    expect(await isStored(taken)).toBe(true);
    expect(notebook.own).toMatchObject([
      { state: 'refused', refusal: { code: 'not allowed', detail: 'The firm has no such property.' } },
    ]);
    // The office enters the property; the phone sends the same fact again.
    const entered = yardFacts(FIRM, 'owner').map((fact) => ({
      ...fact,
      ...(fact.property === null ? {} : { property: 'a house not entered yet' }),
    }));
    await office.ledger().append(FIRM, entered.slice(2), new Date().toISOString());
    await notebook.moveRefused([refused?.id ?? ''], 'waiting');
    expect(await syncTurn(notebook, lineOf(ANA))).toEqual({ problem: null });
    expect(await isStored(refused)).toBe(true);
  });

  it('shows on the phone what the office put right at the desk, with the old finding beside the new', async () => {
    const notebook = phone.notebook();
    const views = createPropertyViews(notebook);
    const line = lineOf(ANA);
    const station = stationOf(7);
    expect(await takeAlong(notebook, line, PROPERTY, '2099-01-01')).toBeNull();
    const [fact] = await notebook.record([look(station)]);
    if (fact === undefined) throw new Error('nothing was recorded');
    expect(await syncTurn(notebook, line)).toEqual({ problem: null });
    const said: StationSeenBody = {
      ...seenBody('visit'),
      finding: { ...OPENED, termites: 'live on monitor' },
    };
    const desk = await startPhone(personOf('lena', 'lead'), createRandom(7000 + seed));
    const [correction] = await desk.notebook().record([
      {
        kind: 'fact corrected',
        property: PROPERTY,
        station,
        body: { corrects: fact.id, why: 'read from the wrong line', body: said, at: null },
      },
    ]);
    expect(await syncTurn(desk.notebook(), lineOf(personOf('lena', 'lead')))).toEqual({ problem: null });
    expect(await syncTurn(notebook, line)).toEqual({ problem: null });
    const watched = views.watch(PROPERTY);
    await expect.poll(() => watched.get()?.facts.some(({ id }) => id === correction?.id)).toBe(true);
    const shown = watched.get();
    expect(shown?.state.stations.find((one) => one.station === station)?.phase).toBe('hit');
    const [entry] = historyOf(factsOfStation(shown?.facts ?? [], station));
    expect(entry?.body).toEqual(said);
    expect(entry?.corrections).toMatchObject([
      { why: 'read from the wrong line', before: { body: fact.body }, after: { body: said } },
    ]);
  });

  it('asks for the report of a visit once all its records are there, keeps the wish over a kill, and lets it stop nothing', async () => {
    await phone.notebook().wantReport(PROPERTY, 'visit');
    await phone.kill();
    await phone.notebook().record([look()]);
    const asked: string[] = [];
    const answers: Awaited<ReturnType<Transport['askReport']>>[] = [
      { ok: false, problem: 'server trouble' },
      { ok: true, value: null },
    ];
    const line: Transport = {
      ...lineOf(ANA),
      async askReport(_property, visit) {
        asked.push(`${visit} with ${statesOf().length} waiting`);
        return answers.shift() ?? { ok: false, problem: 'server trouble', unfit: 'no address' };
      },
    };
    expect(await syncTurn(phone.notebook(), { ...line, sendFacts: lineOf(null).sendFacts })).toEqual({
      problem: 'sign in again',
    });
    expect(asked).toEqual([]);
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: null });
    expect(phone.notebook().reports).toHaveLength(1);
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: null });
    expect(phone.notebook().reports).toEqual([]);
    await phone.notebook().wantReport(PROPERTY, 'second');
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: null });
    expect(phone.notebook().reports).toMatchObject([{ visit: 'second', refusal: 'no address' }]);
    // What cannot go is asked for once, and stands there until somebody has read it.
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: null });
    expect(asked).toEqual(['visit with 0 waiting', 'visit with 0 waiting', 'second with 0 waiting']);
  });

  it('hands in a file of a phone that can no longer send: records and pictures, once, by the office or by himself', async () => {
    const picture = { whole: noise(300_000), thumbnail: noise(3000), mediaType: 'image/jpeg' };
    const { hash } = await storePhoto(phone.notebook(), picture);
    const [first, second] = await phone.notebook().record([look(), look(stationOf(2), 'with a picture')]);
    const text = await (await exportOf(phone.notebook())).text();
    // A technician hands in nobody else's.
    const ben = await handIn(text, lineOf(personOf('ben')));
    expect(ben).toMatchObject({ is: 'done', taken: 0, photos: 1 });
    expect(ben.is === 'done' && ben.refused).toHaveLength(2);
    expect(await isStored(first)).toBe(false);
    const lead = lineOf(personOf('lea', 'lead'));
    const cut = { ...lead, sendFacts: lineOf(null).sendFacts };
    expect(await handIn(text, cut)).toEqual({ is: 'stopped', problem: 'sign in again' });
    const done = { is: 'done', refused: [], photos: 1, photosRefused: 0 } as const;
    expect(await handIn(text, lead)).toEqual({ ...done, taken: 2, known: 0 });
    expect(await handIn(text, lineOf(ANA))).toEqual({ ...done, taken: 0, known: 2 });
    expect(await isStored(second)).toBe(true);
    const answer = await office.fetch(ANA, `/api/photos/${hash}`, {});
    expect(new Uint8Array(await answer.arrayBuffer())).toEqual(picture.whole);
    // The phone works after all: what it holds has come home already.
    expect(await syncTurn(phone.notebook(), lineOf(ANA))).toEqual({ problem: null });
    expect(statesOf()).toEqual([]);
  });

  it('takes no file of another firm, nor one that is cut or of another shape', async () => {
    await phone.notebook().record([look()]);
    const text = await (await exportOf(phone.notebook())).text();
    const stranger = createLine((path, init) =>
      office.fetch(personOf('eve', 'owner', 'another firm'), path, init),
    );
    expect(await handIn(text, stranger)).toEqual({ is: 'other firm' });
    for (const spoilt of ['', 'null', '{}', text.slice(0, -9), text.replace('unsent 1', 'unsent 9')])
      expect(await handIn(spoilt, lineOf(ANA))).toEqual({ is: 'no such file' });
  });

  it('keeps a picture for which the firm has no room, and lets the records pass', async () => {
    const { hash } = await storePhoto(phone.notebook(), {
      whole: noise(200_000),
      thumbnail: noise(900),
      mediaType: 'image/jpeg',
    });
    const [fact] = await phone.notebook().record([look()]);
    let isFull = true;
    const line = createLine(async (path, init) =>
      isFull && init.method === 'PUT'
        ? Response.json({ code: 'no room for photos' }, { status: 507 })
        : office.fetch(ANA, path, init),
    );
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: null });
    expect(await isStored(fact)).toBe(true);
    const states = () =>
      phone
        .notebook()
        .shelf.transact(['photos'], 'read', async (tx) => (await tx.get('photos', hash))?.state);
    expect(await states()).toBe('waiting');
    isFull = false;
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: null });
    expect(await states()).toBe('sent');
  });

  it('finds the one request that the door chokes on and lets the others pass', async () => {
    const notebook = phone.notebook();
    const facts = await notebook.record(Array.from({ length: 9 }, (_, index) => look(stationOf(index + 1))));
    const poison = facts[4]?.id ?? '';
    const line = createLine((path, init) =>
      typeof init.body === 'string' && path === '/api/facts' && init.body.includes(poison)
        ? Promise.resolve(new Response('{"detail":"too strange"}', { status: 413 }))
        : office.fetch(ANA, path, init),
    );
    expect(await syncTurn(notebook, line)).toEqual({ problem: null });
    expect(notebook.own).toMatchObject([
      { state: 'refused', refusal: { code: 'malformed', detail: 'too strange' } },
    ]);
    for (const fact of facts) expect(await isStored(fact), fact.id).toBe(fact.id !== poison);
  });

  it('ends the membership on the word of the server only, keeping what was never sent', async () => {
    const notebook = phone.notebook();
    await syncTurn(notebook, lineOf(ANA));
    await takeAlong(notebook, lineOf(ANA), PROPERTY, '2999-01-01');
    await notebook.record([look()]);
    const says = (standing: string) =>
      createLine(async (path, init) =>
        path === '/api/sync/standing'
          ? new Response(JSON.stringify({ standing }), { status: 200 })
          : office.fetch(null, path, init),
      );
    for (const word of ['current', 'unknown'])
      expect(await syncTurn(notebook, says(word))).toEqual({ problem: 'sign in again' });
    expect(notebook.marks.length).toBeGreaterThan(0);
    expect(await syncTurn(notebook, says('former'))).toEqual({ problem: 'no longer of the firm' });
    expect(notebook.marks).toEqual([]);
    expect(await notebook.readHeld(PROPERTY)).toBeUndefined();
    expect(notebook.firm.facts).toEqual([]);
    expect(statesOf()).toEqual(['waiting']);
    await expect(notebook.record([look()])).rejects.toMatchObject({ code: 'locked' });
    await phone.kill();
    expect(phone.notebook().who.standing).toBe('former');
    expect(statesOf()).toEqual(['waiting']);
  });

  it('takes a page of a café for no answer at all', async () => {
    const line = createLine(
      async () => new Response('<html>Welcome! Accept our terms.</html>', { status: 200 }),
    );
    expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: 'unreachable' });
  });

  it('measures how far the clock of the phone is off', async () => {
    const ahead = await startPhone(ANA, createRandom(99), () => Date.now() + 3 * 3_600_000);
    await syncTurn(ahead.notebook(), lineOf(ANA));
    expect(Math.round((ahead.notebook().log.clockOffMs ?? 0) / 60_000)).toBe(180);
    const [fact] = await ahead.notebook().record([look(stationOf(7), 'by a clock of tomorrow')]);
    expect(await syncTurn(ahead.notebook(), lineOf(ANA))).toEqual({ problem: null });
    const state = await office.ledger().findProperty(FIRM, PROPERTY);
    expect(state?.stations.find(({ number }) => number === 7)?.doubtfulClocks).toContain(fact?.id);
  });

  it('sends a picture in parts from where a cut left it, then its thumbnail', async () => {
    const whole = Uint8Array.from({ length: 400_000 }, (_, index) => (index * 31) % 251);
    whole.set([0xff, 0xd8, 0xff, 0xe0]);
    const picture = { whole, thumbnail: whole.slice(0, 900), mediaType: 'image/jpeg' };
    const { hash } = await storePhoto(phone.notebook(), picture);
    let parts = 0;
    const cutting = createLine(async (path, init) => {
      if (init.method === 'PUT' && path.includes('size=')) {
        parts += 1;
        if (parts === 3) throw new TypeError('cut');
      }
      return office.fetch(ANA, path, init);
    });
    expect(await syncTurn(phone.notebook(), cutting)).toEqual({ problem: 'unreachable' });
    expect(await syncTurn(phone.notebook(), cutting)).toEqual({ problem: null });
    // Four parts of 128 KiB, one of them sent twice.
    expect(parts).toBe(5);
    const answer = await office.fetch(personOf('ben'), `/api/photos/${hash}`, {});
    expect(new Uint8Array(await answer.arrayBuffer())).toEqual(whole);

    // Another phone whose history names the picture has its thumbnail afterwards.
    await phone.notebook().record([{ ...look(), body: { ...seenBody('visit'), photos: [hash] } }]);
    await syncTurn(phone.notebook(), lineOf(ANA));
    const other = await startPhone(personOf('ben'), createRandom(7));
    await takeAlong(other.notebook(), lineOf(personOf('ben')), PROPERTY, '2999-01-01');
    await syncTurn(other.notebook(), lineOf(personOf('ben')));
    const shelf = other.notebook().shelf;
    expect(await shelf.transact(['thumbnails'], 'read', (tx) => tx.get('thumbnails', hash))).toEqual(
      picture.thumbnail,
    );
  });
});

describe('the engine', () => {
  it('waits longer after each failure, never in step, and at least as long as the server asks', () => {
    const random = createRandom(5);
    for (let failures = 1; failures < 12; failures += 1) {
      const waits = Array.from({ length: 200 }, () => backoffMs(failures, random));
      const most = Math.min(300, 2 ** failures) * 1000;
      expect(Math.min(...waits)).toBeGreaterThanOrEqual(500);
      expect(Math.max(...waits)).toBeLessThanOrEqual(most);
      expect(new Set(waits).size).toBeGreaterThan(20);
    }
    expect(backoffMs(1, random, 60)).toBeGreaterThanOrEqual(60_000);
  });

  it('tries again by itself after a failure, and only one tab does', async () => {
    const timers: { run: () => void; ms: number }[] = [];
    let broken = true;
    let busy = false;
    const notebook = phone.notebook();
    const [fact] = await notebook.record([look(stationOf(9))]);
    const engine = createEngine({
      notebook,
      line: createLine((path, init) => {
        if (broken) throw new TypeError('no line');
        return office.fetch(ANA, path, init);
      }),
      now: Date.now,
      random: createRandom(3),
      isOnline: () => true,
      alone: async (work) => {
        if (busy) return false;
        await work();
        return true;
      },
      setTimer: (run, ms) => {
        timers.push({ run, ms });
        return () => {};
      },
    });
    await engine.syncNow();
    expect(engine.state.get()).toMatchObject({ problem: 'unreachable', running: false });
    expect(timers.at(-1)?.ms).toBeLessThanOrEqual(2000);
    broken = false;
    busy = true;
    await engine.syncNow();
    expect(await isStored(fact)).toBe(false);
    busy = false;
    timers.at(-1)?.run();
    await engine.syncNow();
    expect(engine.state.get().problem).toBeNull();
    expect(await isStored(fact)).toBe(true);
    engine.stop();
  });
});

/** Bytes that begin as a JPEG does. */
function noise(length: number): Uint8Array<ArrayBuffer> {
  const bytes = Uint8Array.from({ length }, (_, index) => (index * 37) % 251);
  bytes.set([0xff, 0xd8, 0xff, 0xe0]);
  return bytes;
}
