import { type AnyFact, CORRECTION, correctedId } from '@sillwatch/trade';
import type { RecordRow } from '../report/applicationRecords.ts';

/**
 * Ids of the entries that the rows of a record rest on: every wording of each application and what corrected it, who and
 * where (the facts of those properties and stations that the record quotes), and all corrections of any of these. Nothing else:
 * an inspector who asks for one product is not handed the rest of the book.
 */
export function entriesOfRecord(rows: readonly RecordRow[], facts: readonly AnyFact[]): ReadonlySet<string> {
  const ids = new Set<string>();
  const properties = new Set<string>();
  const stations = new Set<string>();
  for (const row of rows) {
    for (const id of [row.entry, row.rootEntry, row.corrects, row.endedBy]) if (id !== null) ids.add(id);
    if (row.propertyId !== null) properties.add(row.propertyId);
    if (row.stationId !== null) stations.add(row.stationId);
  }
  for (const fact of facts) {
    if (PLACE_KINDS.has(fact.kind) && fact.property !== null && properties.has(fact.property))
      ids.add(fact.id);
    if (fact.kind === 'station installed' && fact.station !== null && stations.has(fact.station))
      ids.add(fact.id);
  }
  const corrections = facts.filter((fact) => fact.kind === CORRECTION);
  // A correction may be corrected in turn: until nothing more is added.
  for (let size = -1; size !== ids.size; ) {
    size = ids.size;
    for (const fact of corrections) if (ids.has(correctedId(fact) ?? '')) ids.add(fact.id);
  }
  return ids;
}

const PLACE_KINDS: ReadonlySet<string> = new Set(['property added', 'property changed', 'structure added']);
