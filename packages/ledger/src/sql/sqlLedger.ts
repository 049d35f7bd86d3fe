import type { FirmState, PropertyState } from '@sillwatch/trade';
import type { Kysely } from 'kysely';
import { breathe } from '../core/breathe.ts';
import { canonicalJson } from '../core/canonical.ts';
import { verifyChain } from '../core/chain.ts';
import type { Head } from '../core/entry.ts';
import { entryToFact } from '../core/entry.ts';
import { LedgerNotEmptyError } from '../core/errors.ts';
import type { GroupCommit } from '../core/groupCommit.ts';
import { createGroupCommit } from '../core/groupCommit.ts';
import { screenFact } from '../core/judge.ts';
import type { Folds, Snapshot, StoredLedger, Verdict } from '../port.ts';
import type { AppendCall } from './append.ts';
import { appendCalls } from './append.ts';
import { type RunLocked, rebuildProjections, renewStale } from './projections.ts';
import * as chain from './query/chain.ts';
import * as facts from './query/facts.ts';
import * as firms from './query/firms.ts';
import * as properties from './query/properties.ts';
import type { Flavour, Tables } from './tables.ts';

/** What an adapter hands over: connections, and how the database differs. */
export interface SqlConnections {
  readonly flavour: Flavour;
  readonly write: Kysely<Tables>;
  /** Sees all that is committed and never waits for a writer. */
  readonly read: Kysely<Tables>;
  /** Runs in a read-only transaction that sees one instant. */
  readonly withFrozenView: <T>(use: (view: Kysely<Tables>) => Promise<T>) => Promise<T>;
  readonly close: () => Promise<void>;
}

const PAGE = 2_000;
/** Largest group of appends that share a transaction; a batch that is larger alone goes alone. */
const GROUP = { mostCalls: 64, mostWeight: 5_000, weightOf: (call: AppendCall) => call.facts.length };

/** A ledger whose projections are those of these folds: where a build with others has been here, they are computed anew first. */
export async function openSqlLedger(connections: SqlConnections, folds: Folds): Promise<StoredLedger> {
  const ledger = createSqlLedger(connections, folds);
  try {
    await renewStale(connections.write, ledger.listFirms, ledger.rebuild, folds.version);
  } catch (error) {
    await ledger.close();
    throw error;
  }
  return ledger;
}

/**
 * On SQLite no write transaction but `load` waits for anything besides the database, so it never spans two turns of the event
 * loop: another connection of this process (accounts) that waited for the lock would block the loop that must release it.
 */
function createSqlLedger(connections: SqlConnections, folds: Folds): StoredLedger {
  const { flavour, write, read, withFrozenView } = connections;
  const emptyFirm = canonicalJson(folds.foldFirm([]));

  type Lane = GroupCommit<AppendCall, readonly Verdict[]>;
  const lanes = new Map<string, Lane>();
  /** One lane for SQLite's one writer; a lane for each firm in PostgreSQL, where firms do not wait for each other. */
  function laneOf(firm: string): Lane {
    const key = flavour.locksRows ? firm : '';
    const lane =
      lanes.get(key) ??
      createGroupCommit<AppendCall, readonly Verdict[]>(
        (calls) => write.transaction().execute((tx) => appendCalls(tx, flavour, folds, calls)),
        GROUP,
      );
    lanes.set(key, lane);
    return lane;
  }

  return {
    async append(firm, batch, receivedAt) {
      const screened = batch.map((fact) => screenFact(firm, fact, folds));
      return laneOf(firm).submit({ firm, facts: screened, receivedAt });
    },

    async listFacts(firm, query = {}) {
      return (await facts.listTexts(read, firm, query)).map(entryToFact);
    },

    async findFact(firm, id) {
      const row = await facts.findText(read, firm, id);
      return row === undefined ? undefined : entryToFact(row);
    },

    async findProperty(firm, property) {
      const state = await properties.findPropertyState(read, firm, property);
      return state === undefined ? undefined : parseProperty(state);
    },

    async listProperties(firm, query = {}) {
      return (await properties.listPropertyStates(read, firm, query)).map(parseProperty);
    },

    async getFirm(firm) {
      const state: FirmState = JSON.parse((await firms.findFirmState(read, firm)) ?? emptyFirm);
      return state;
    },

    async rebuild(firm, onProgress) {
      const runLocked: RunLocked = (work) =>
        write.transaction().execute(async (tx) => {
          await chain.lockHead(tx, flavour, firm);
          return work(tx);
        });
      await rebuildProjections(runLocked, firm, folds, async (done, total) => {
        onProgress?.(done, total);
        await breathe();
      });
    },

    async verify(firm, onProgress) {
      return verifyChain(
        firm,
        {
          findTip: () => chain.findTip(read, firm),
          listPage: async (afterSeq, untilSeq) => {
            await breathe();
            return facts.listEntries(read, firm, afterSeq, untilSeq, PAGE);
          },
        },
        onProgress,
      );
    },

    async listFirms() {
      return (await chain.listHeads(read)).map(({ firm }) => firm);
    },

    async findHead(firm) {
      return (await chain.findTip(read, firm)).head;
    },

    async close() {
      await Promise.all([...lanes.values()].map((lane) => lane.idle()));
      await connections.close();
    },

    async withSnapshot(use) {
      return withFrozenView(async (view) => use(await takeSnapshot(view)));
    },

    async load(source) {
      await write.transaction().execute(async (tx) => {
        if ((await chain.listHeads(tx)).length > 0) throw new LedgerNotEmptyError();
        const heads = new Map<string, Head>();
        for await (const { firm, entries } of source) {
          await facts.insertEntries(tx, firm, entries);
          const last = entries.at(-1);
          if (last !== undefined) heads.set(firm, last);
        }
        for (const [firm, head] of heads) {
          await chain.lockHead(tx, flavour, firm);
          await chain.setHead(tx, firm, head);
          await rebuildProjections(
            (work) => work(tx),
            firm,
            folds,
            () => {},
          );
        }
      });
    },
  };
}

async function takeSnapshot(view: Kysely<Tables>): Promise<Snapshot> {
  const heads = await chain.listHeads(view);
  return {
    firms: heads.map(({ firm, seq, hash }) => ({ firm, facts: seq, head: hash })),
    listEntries: async function* (firm) {
      let after = 0;
      for (;;) {
        const page = await facts.listEntries(view, firm, after, Number.MAX_SAFE_INTEGER, PAGE);
        const last = page.at(-1);
        if (last === undefined) return;
        yield page;
        after = last.seq;
        await breathe();
      }
    },
  };
}

function parseProperty(text: string): PropertyState {
  const state: PropertyState = JSON.parse(text);
  return state;
}
