import { createHash } from 'node:crypto';
import { findMoment, type LabelProfile } from '@sillwatch/trade';
import { Zip, ZipDeflate } from 'fflate';
import { renderPdf } from '../document/pdf/renderPdf.ts';
import type { RecordRow } from '../report/applicationRecords.ts';
import type { FirmCard } from '../report/firm.ts';
import type { RecordFilter } from '../report/recordFilter.ts';
import { recordCsv, recordDocument } from '../report/recordPaper.ts';
import type { PaperLanguage } from '../report/words/say.ts';
import { CHECK_SCRIPT, readmeText } from './readme.ts';

/** One stored entry with the two hashes that its link of the chain joins. */
export interface BundleEntry {
  readonly seq: number;
  /** 64 hex digits; 64 zeros before the first entry. */
  readonly previousHash: string;
  readonly hash: string;
  /** Canonical JSON of the fact with its receipt, to the byte. */
  readonly text: string;
}

/** What walking the whole chain came to when the bundle was made. */
export type BundleProof =
  | { readonly sound: true; readonly facts: number; readonly head: string }
  | { readonly sound: false; readonly facts: number; readonly brokenAtSeq: number; readonly why: string };

export interface BundleInput {
  readonly firm: FirmCard;
  readonly firmId: string;
  readonly rows: readonly RecordRow[];
  readonly filter: RecordFilter;
  readonly profiles: readonly LabelProfile[];
  /** `whole ledger`: every entry, so that the chain is recomputed from its beginning to its head. */
  readonly scope: 'whole ledger' | 'entries of the record';
  /** In ledger order. */
  readonly entries: AsyncIterable<readonly BundleEntry[]>;
  readonly proof: BundleProof;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang?: PaperLanguage;
}

/**
 * What an inspector takes along, as the pieces of one ZIP file: the record as PDF and CSV, the stored entries behind it with
 * their hashes, what checking them came to, and how to check again without us (README.txt, check.py).
 */
export async function* inspectorBundle(input: BundleInput): AsyncGenerator<Uint8Array> {
  const zip = openZip(input.writtenAt);
  const { rows, filter, lang = 'en-US' } = input;

  let count = 0;
  const entries = zip.open('entries.ndjson');
  for await (const page of input.entries) {
    count += page.length;
    entries.write(page.map((entry) => `${JSON.stringify(lineOf(entry))}\n`).join(''));
    yield* zip.take();
  }
  entries.end();
  zip.add('applications.csv', recordCsv(rows, filter, lang));
  const document = recordDocument({
    firm: input.firm,
    rows,
    filter,
    profiles: input.profiles,
    writtenAt: input.writtenAt,
    lang,
  });
  zip.add('applications.pdf', await renderPdf(document));
  yield* zip.take();
  zip.add('check.py', CHECK_SCRIPT);
  zip.add('README.txt', readmeText({ ...input, lang, count }));
  zip.add(
    'manifest.json',
    `${JSON.stringify(
      {
        firm: { id: input.firmId, name: input.firm.name },
        writtenAt: input.writtenAt,
        scope: input.scope,
        entries: count,
        applications: rows.length,
        chain: input.proof,
        files: zip.listHashes(),
      },
      null,
      2,
    )}\n`,
  );
  zip.end();
  yield* zip.take();
}

function lineOf({ seq, previousHash, hash, text }: BundleEntry): BundleEntry {
  return { seq, previousHash, hash, text };
}

interface OpenFile {
  write(text: string): void;
  end(): void;
}

/** A ZIP that is handed out while it is written, so that a firm's whole ledger never stands in memory. */
interface OpenZip {
  open(name: string): OpenFile;
  add(name: string, content: string | Uint8Array): void;
  /** Files closed so far, by name, with the SHA-256 of what they hold. */
  listHashes(): Readonly<Record<string, string>>;
  end(): void;
  /** The pieces written since the last call. */
  take(): readonly Uint8Array[];
}

function openZip(writtenAt: string): OpenZip {
  const pieces: Uint8Array[] = [];
  const hashes: Record<string, string> = {};
  const zip = new Zip((error, piece) => {
    if (error !== null) throw error;
    pieces.push(piece);
  });
  const mtime = new Date(findMoment(writtenAt)?.epochMs ?? 0);
  const open = (name: string) => {
    const file = new ZipDeflate(name, { level: 6 });
    file.mtime = mtime;
    zip.add(file);
    const hash = createHash('sha256');
    return {
      push: (bytes: Uint8Array) => {
        hash.update(bytes);
        file.push(bytes, false);
      },
      end: () => {
        file.push(new Uint8Array(), true);
        hashes[name] = hash.digest('hex');
      },
    };
  };
  return {
    open: (name) => {
      const file = open(name);
      return { write: (text) => file.push(Buffer.from(text, 'utf8')), end: file.end };
    },
    add: (name, content) => {
      const file = open(name);
      file.push(typeof content === 'string' ? Buffer.from(content, 'utf8') : content);
      file.end();
    },
    listHashes: () => ({ ...hashes }),
    end: () => zip.end(),
    take: () => pieces.splice(0),
  };
}
