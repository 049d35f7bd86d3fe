import type { FirmState, PropertyState } from '@sillwatch/trade';
import { canonicalJson } from '../core/canonical.ts';
import { EMPTY_HEAD, verifyChain } from '../core/chain.ts';
import { DEFAULT_FACTS, DEFAULT_PROPERTIES } from '../core/defaults.ts';
import type { Entry, Head } from '../core/entry.ts';
import { entryToFact } from '../core/entry.ts';
import { LedgerNotEmptyError } from '../core/errors.ts';
import { screenFact, settleBatch } from '../core/judge.ts';
import type { PropertyRow } from '../core/search.ts';
import { projectProperty, searchWords } from '../core/search.ts';
import type { Folds, StoredLedger } from '../port.ts';

interface FirmRecord {
  readonly entries: Entry[];
  readonly byId: Map<string, Entry>;
  readonly byProperty: Map<string, Entry[]>;
  readonly ofFirm: Entry[];
  readonly properties: Map<string, PropertyRow>;
  state: string;
}

/** A ledger that lives as long as the process: for tests, trials and the demo's dry runs. Same contract, nothing on disk. */
export function createMemoryLedger(folds: Folds): StoredLedger {
  const firms = new Map<string, FirmRecord>();

  function openFirm(firm: string): FirmRecord {
    const found = firms.get(firm);
    if (found !== undefined) return found;
    const state = canonicalJson(folds.foldFirm([]));
    const created: FirmRecord = {
      entries: [],
      byId: new Map(),
      byProperty: new Map(),
      ofFirm: [],
      properties: new Map(),
      state,
    };
    firms.set(firm, created);
    return created;
  }

  const firmKinds = new Set(folds.firmKinds);
  const foldFirm = ({ ofFirm }: FirmRecord): FirmState =>
    folds.foldFirm(ofFirm.filter(({ kind }) => firmKinds.has(kind)).map(entryToFact));

  function refold(record: FirmRecord, touched: Iterable<string | null>): void {
    const rows: PropertyRow[] = [];
    let state = record.state;
    for (const property of new Set(touched))
      if (property === null) state = canonicalJson(foldFirm(record));
      else {
        const entries = record.byProperty.get(property) ?? [];
        rows.push(projectProperty(property, folds.foldProperty(entries.map(entryToFact))));
      }
    record.state = state;
    for (const row of rows) record.properties.set(row.property, row);
  }

  const findHead = (firm: string): Head => firms.get(firm)?.entries.at(-1) ?? EMPTY_HEAD;

  return {
    async append(firm, facts, receivedAt) {
      const screened = facts.map((fact) => screenFact(firm, fact, folds));
      const record = firms.get(firm);
      const settled = settleBatch(screened, record?.byId ?? new Map(), findHead(firm), receivedAt);
      if (settled.entries.length === 0) return settled.verdicts;
      const target = openFirm(firm);
      const undo = store(target, settled.entries);
      try {
        refold(
          target,
          settled.entries.map(({ property }) => property),
        );
      } catch (error) {
        undo();
        throw error;
      }
      return settled.verdicts;
    },

    async listFacts(firm, query = {}) {
      const { afterSeq = 0, property, station, kinds, devices, limit = DEFAULT_FACTS } = query;
      const record = firms.get(firm);
      const source = property === undefined ? record?.entries : record?.byProperty.get(property);
      const found: Entry[] = [];
      for (const entry of source ?? []) {
        if (found.length >= limit) break;
        if (entry.seq <= afterSeq) continue;
        if (station !== undefined && entry.station !== station) continue;
        if (kinds !== undefined && !kinds.includes(entry.kind)) continue;
        if (devices !== undefined && !devices.includes(entry.device)) continue;
        found.push(entry);
      }
      return found.map(entryToFact);
    },

    async findFact(firm, id) {
      const entry = firms.get(firm)?.byId.get(id);
      return entry === undefined ? undefined : entryToFact(entry);
    },

    async findProperty(firm, property) {
      const row = firms.get(firm)?.properties.get(property);
      return row === undefined ? undefined : parseState(row);
    },

    async listProperties(firm, query = {}) {
      const { branch, text, after = '', limit = DEFAULT_PROPERTIES } = query;
      const words = searchWords(text);
      return [...(firms.get(firm)?.properties.values() ?? [])]
        .filter((row) => row.property > after)
        .filter((row) => branch === undefined || row.branch === branch)
        .filter((row) => words.every((word) => row.search.includes(word)))
        .sort((a, b) => (a.property < b.property ? -1 : 1))
        .slice(0, limit)
        .map(parseState);
    },

    async getFirm(firm) {
      const state: FirmState = JSON.parse(firms.get(firm)?.state ?? canonicalJson(folds.foldFirm([])));
      return state;
    },

    async rebuild(firm, onProgress) {
      const record = firms.get(firm);
      if (record === undefined) return;
      record.properties.clear();
      const properties = [...record.byProperty.keys()];
      refold(record, [null, ...properties]);
      onProgress?.(properties.length, properties.length);
    },

    async verify(firm, onProgress) {
      const entries = firms.get(firm)?.entries ?? [];
      const source = {
        findTip: async () => ({ head: findHead(firm), lastSeq: entries.length }),
        listPage: async (afterSeq: number, untilSeq: number) => entries.slice(afterSeq, untilSeq),
      };
      return verifyChain(firm, source, onProgress);
    },

    async listFirms() {
      return [...firms.keys()].filter((firm) => findHead(firm).seq > 0).sort();
    },

    async findHead(firm) {
      const { seq, hash } = findHead(firm);
      return { seq, hash };
    },

    async close() {},

    async withSnapshot(use) {
      const copies = new Map([...firms].map(([firm, { entries }]) => [firm, entries.slice()]));
      return use({
        firms: [...copies]
          .filter(([, entries]) => entries.length > 0)
          .map(([firm, entries]) => ({
            firm,
            facts: entries.length,
            head: (entries.at(-1) ?? EMPTY_HEAD).hash,
          }))
          .sort((a, b) => (a.firm < b.firm ? -1 : 1)),
        listEntries: async function* (firm) {
          yield copies.get(firm) ?? [];
        },
      });
    },

    async load(source) {
      if ([...firms.keys()].some((firm) => findHead(firm).seq > 0)) throw new LedgerNotEmptyError();
      try {
        for await (const { firm, entries } of source) store(openFirm(firm), entries);
        for (const record of firms.values()) refold(record, [null, ...record.byProperty.keys()]);
      } catch (error) {
        firms.clear();
        throw error;
      }
    },
  };
}

/** Adds entries and returns what takes them out again. */
function store(record: FirmRecord, entries: readonly Entry[]): () => void {
  const listOf = ({ property }: Entry): Entry[] => {
    if (property === null) return record.ofFirm;
    const list = record.byProperty.get(property) ?? [];
    record.byProperty.set(property, list);
    return list;
  };
  for (const entry of entries) {
    record.entries.push(entry);
    record.byId.set(entry.id, entry);
    listOf(entry).push(entry);
  }
  return () => {
    for (const entry of entries.toReversed()) {
      record.entries.pop();
      record.byId.delete(entry.id);
      const list = listOf(entry);
      list.pop();
      if (list.length === 0 && entry.property !== null) record.byProperty.delete(entry.property);
    }
  };
}

function parseState(row: PropertyRow): PropertyState {
  const state: PropertyState = JSON.parse(row.state);
  return state;
}
