import {
  applicationRecords,
  type FirmCard,
  isOfRecord,
  type PaperLanguage,
  type RecordFilter,
  type RecordRow,
  recordCsv,
  recordDocument,
  renderHtml,
  renderPdf,
} from '@sillwatch/paper';
import { type AnyFact, CORRECTION, correctedId, type LabelProfile } from '@sillwatch/trade';

export interface RecordRequest {
  readonly firm: FirmCard;
  readonly filter: RecordFilter;
  /** `count`: how much the record holds, as JSON (see `RecordCount`). */
  readonly format: 'csv' | 'pdf' | 'html' | 'count';
  readonly profiles: readonly LabelProfile[];
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang: PaperLanguage;
}

export interface RecordCount {
  /** Applications, each with all its wordings. */
  readonly applications: number;
  readonly wordings: number;
  readonly properties: number;
  readonly withGaps: number;
}

/** The application record of what `read` gives: stored facts as JSON, page by page, the same each time it is called. */
export async function writeRecord(
  { firm, filter, format, profiles, writtenAt, lang }: RecordRequest,
  read: () => AsyncIterable<readonly string[]>,
): Promise<Uint8Array> {
  const rows = applicationRecords(await keepOfRecord(read), filter);
  if (format === 'count') return Buffer.from(JSON.stringify(countOf(rows)), 'utf8');
  if (format === 'csv') return Buffer.from(recordCsv(rows, filter, lang), 'utf8');
  const document = recordDocument({ firm, rows, filter, profiles, writtenAt, lang });
  return format === 'pdf' ? renderPdf(document) : Buffer.from(renderHtml(document), 'utf8');
}

function countOf(rows: readonly RecordRow[]): RecordCount {
  const distinct = (ids: readonly (string | null)[]): number => new Set(ids).size;
  return {
    applications: distinct(rows.map(({ rootEntry }) => rootEntry)),
    wordings: rows.length,
    properties: distinct(rows.map(({ propertyId }) => propertyId)),
    withGaps: rows.filter(({ missing }) => missing.length > 0).length,
  };
}

/**
 * What the record is made of, a small part of a ledger: facts that tell of an application, what it is told of, all corrections,
 * and what these correct. The last are known only when all is read, so that their facts are fetched by a second reading.
 */
async function keepOfRecord(read: () => AsyncIterable<readonly string[]>): Promise<readonly AnyFact[]> {
  const kept: AnyFact[] = [];
  const ids = new Set<string>();
  const corrected = new Set<string>();
  for await (const fact of eachFact(read)) {
    const target = fact.kind === CORRECTION ? correctedId(fact) : undefined;
    if (target !== undefined) corrected.add(target);
    if (fact.kind !== CORRECTION && !isOfRecord(fact)) continue;
    kept.push(fact);
    ids.add(fact.id);
  }
  const missing = corrected.difference(ids);
  if (missing.size === 0) return kept;
  for await (const fact of eachFact(read)) if (missing.has(fact.id)) kept.push(fact);
  return kept;
}

async function* eachFact(read: () => AsyncIterable<readonly string[]>): AsyncGenerator<AnyFact> {
  for await (const page of read()) for (const text of page) yield JSON.parse(text);
}
