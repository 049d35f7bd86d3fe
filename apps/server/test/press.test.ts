import { type Document, renderPdf } from '@sillwatch/paper';
import { afterEach, describe, expect, it } from 'vitest';
import { createPress, PRESS_LIMITS, type Press, type PressLimits } from '../src/press/press.ts';
import type { PressFeed, PressJob } from '../src/press/pressJob.ts';
import { createFacts, firstFacts } from './support/facts.ts';
import { FIRM, seedPerson, signedIn, startTestServer } from './support/harness.ts';

const WRITTEN_AT = '2026-03-04T17:00:00-05:00';
const never = new AbortController().signal;
let press: Press;

function open(limits: Partial<PressLimits> = {}): Press {
  press = createPress({ ...PRESS_LIMITS, threads: 2, ...limits });
  return press;
}
afterEach(() => press.close());

function document(rows = 1): Document {
  return {
    lang: 'en-US',
    title: 'Invented paper',
    subtitle: 'of a test',
    writtenAt: WRITTEN_AT,
    letterhead: { name: 'Invented firm', lines: [] },
    banner: null,
    foot: 'foot',
    pageWords: 'Page {n} of {m}',
    continuedWords: '(continued)',
    layout: 'portrait',
    blocks: [
      {
        kind: 'table',
        caption: 'Rows',
        columns: [{ header: 'One', align: 'left', share: 1 }],
        rows: Array.from({ length: rows }, (_, row) => ({ cells: [`row ${row}`], look: 'plain' })),
      },
    ],
  };
}

const paper = (rows?: number): PressJob => ({ kind: 'paper', document: document(rows) });
const record: PressJob = {
  kind: 'record',
  request: {
    firm: { name: 'Invented firm', lines: [] },
    filter: {},
    format: 'csv',
    profiles: [],
    writtenAt: WRITTEN_AT,
    lang: 'en-US',
  },
};
/** A feed that gives nothing until it is let go. */
function held(): { readonly feed: PressFeed; readonly letGo: () => void } {
  const { promise, resolve } = Promise.withResolvers<void>();
  return {
    letGo: resolve,
    feed: async function* () {
      await promise;
      yield [];
    },
  };
}

describe('the press', () => {
  it('draws the same bytes as the room does by itself, again and again, in one thread or several', async () => {
    const expected = Buffer.from(await renderPdf(document()));
    open();
    for (const pressed of await Promise.all([1, 2, 3, 4].map(() => press.draw('a', paper(), never)))) {
      if (!pressed.ok) throw new Error(pressed.why);
      expect(Buffer.concat(pressed.pieces).equals(expected)).toBe(true);
    }
  });

  it('says in words what does not fit its paper, and draws the next one', async () => {
    open({ threads: 1 });
    const stock = { kind: 'roll', labelWidthMm: 57, labelHeightMm: 32 } as const;
    const labels: PressJob = {
      kind: 'labels',
      paper: { stock, labels: [], firmName: 'Invented', writtenAt: WRITTEN_AT },
    };
    expect(await press.draw('a', labels, never)).toMatchObject({ ok: false, reason: 'cannot be drawn' });
    expect(await press.draw('a', paper(), never)).toMatchObject({ ok: true });
  });

  it('a short paper does not wait for long ones, of whatever firm', async () => {
    open({ threads: 2 });
    const { feed, letGo } = held();
    const long = [1, 2, 3].map(() => press.draw('a', record, never, feed));
    expect(await press.draw('b', paper(), never)).toMatchObject({ ok: true });
    expect(await press.draw('a', paper(), never)).toMatchObject({ ok: true });
    letGo();
    for (const one of await Promise.all(long)) expect(one).toMatchObject({ ok: true });
  });

  it('turns away what is too much of one firm, not of another', async () => {
    open({ threads: 1, mostOfFirm: 2 });
    const { feed, letGo } = held();
    const begun = [1, 2].map(() => press.draw('a', record, never, feed));
    expect(await press.draw('a', record, never, feed)).toMatchObject({ ok: false, reason: 'busy' });
    const other = press.draw('b', paper(), never);
    letGo();
    await Promise.all(begun);
    expect(await other).toMatchObject({ ok: true });
    expect(await press.draw('a', record, never)).toMatchObject({ ok: true });
  });

  it('turns away what would wait too long, whoever asks', async () => {
    open({ threads: 1, mostWaiting: 1 });
    const { feed, letGo } = held();
    const begun = [press.draw('a', record, never, feed), press.draw('b', record, never, feed)];
    expect(await press.draw('c', record, never, feed)).toMatchObject({ ok: false, reason: 'busy' });
    letGo();
    await Promise.all(begun);
  });

  it('gives up a paper for which nobody waits, begun or not, and goes on', async () => {
    open({ threads: 1 });
    const [first, second] = [new AbortController(), new AbortController()];
    const { feed } = held();
    const begun = press.draw('a', record, first.signal, feed);
    const waits = press.draw('a', record, second.signal, feed);
    const last = press.draw('a', paper(), never);
    second.abort();
    expect(await waits).toMatchObject({ ok: false, reason: 'gone' });
    first.abort();
    expect(await begun).toMatchObject({ ok: false, reason: 'gone' });
    expect(await last).toMatchObject({ ok: true });
  });

  it('ends a paper that takes too long or too much memory, and goes on', async () => {
    open({ threads: 1, mostMs: 700 });
    expect(await press.draw('a', record, never, held().feed)).toMatchObject({
      ok: false,
      reason: 'too large',
    });
    await press.close();
    open({ threads: 1, mostMemoryMib: 64 });
    expect(await press.draw('a', paper(200_000), never)).toMatchObject({ ok: false, reason: 'too large' });
    expect(await press.draw('a', paper(), never)).toMatchObject({ ok: true });
  });

  it('a fault of the feed ends the paper, not the press', async () => {
    open({ threads: 1 });
    const broken: PressFeed = async function* () {
      yield [];
      throw new Error('the database is gone');
    };
    await expect(press.draw('a', record, never, broken)).rejects.toThrow('the database is gone');
    expect(await press.draw('a', paper(), never)).toMatchObject({ ok: true });
  });

  it('ends its threads when nothing is asked for, and starts again', async () => {
    open({ threads: 1, idleMs: 20 });
    expect(await press.draw('a', paper(), never)).toMatchObject({ ok: true });
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(await press.draw('a', paper(), never)).toMatchObject({ ok: true });
  });
});

describe('a server whose press is full', () => {
  it('says so, with the seconds to wait, and answers everything else', async () => {
    open();
    const server = await startTestServer({ press: { ...PRESS_LIMITS, mostOfFirm: 0 } });
    try {
      const owner = await seedPerson(server, 'owner');
      await server.ledger.append(FIRM.id, firstFacts(FIRM.id, owner, 'house'), '2026-01-01T00:00:00.000Z');
      const client = await signedIn(server, `owner@${FIRM.id}.example`);
      for (const path of [
        '/api/reports/applications?format=pdf',
        '/api/reports/stations/house?format=pdf',
        '/api/reports/labels/house',
        '/api/reports/bundle',
        '/api/properties/house/diagram?format=pdf',
      ]) {
        const answer = await client.get(path);
        expect([answer.status, answer.body.code], path).toEqual([503, 'papers busy']);
        expect(answer.headers.get('retry-after')).toBe('5');
      }
      expect((await client.get('/api/properties/house')).status).toBe(200);
      expect((await client.get('/api/reports/stations/house?format=html')).status).toBe(200);
    } finally {
      await server.end();
    }
  });
});

describe('the record of a firm', () => {
  it('holds what a correction made of an entry that told of no application', async () => {
    open();
    const server = await startTestServer();
    try {
      const owner = await seedPerson(server, 'owner');
      const facts = createFacts(FIRM.id, owner, 'second');
      const look = facts.seen('house', 'house-s1', 120);
      const body = {
        ...(typeof look.body === 'object' ? look.body : {}),
        application: {
          productName: 'Demo Bait (invented)',
          epaRegistrationNumber: '99999-999',
          grams: 120,
          location: 'station 1',
          areaTreated: '1 station',
          site: 'dwelling',
          applicatorName: 'Invented Applicator',
          certificationNumber: 'INV-77',
          appliedUnderSupervisionBy: null,
        },
      };
      const verdicts = await server.ledger.append(
        FIRM.id,
        [...firstFacts(FIRM.id, owner, 'house'), look, facts.correction(look, body)],
        '2026-01-01T00:00:00.000Z',
      );
      expect(verdicts.map(({ verdict }) => verdict)).not.toContain('refused');
      const client = await signedIn(server, `owner@${FIRM.id}.example`);
      const whole = await client.get('/api/reports/applications?format=csv');
      expect(whole.text).toContain('99999-999');
      const ofHouse = await client.get('/api/reports/applications?format=csv&property=house');
      expect(ofHouse.text).toBe(whole.text);
    } finally {
      await server.end();
    }
  });
});
