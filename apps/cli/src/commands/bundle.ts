import { closeSync, openSync, rmSync, writeSync } from 'node:fs';
import type { PaperLanguage } from '@sillwatch/paper';
import { writeBundle } from '@sillwatch/server';
import { type CommonOptions, withLedger } from '../context.ts';
import { CommandError, EXIT, type Io } from '../io.ts';
import { describeFirm, readFilter } from './report.ts';

export interface BundleOptions extends CommonOptions {
  readonly from?: string;
  readonly to?: string;
  readonly property?: string;
  readonly product?: string;
  readonly technician?: string;
  readonly whole?: boolean;
  readonly lang?: PaperLanguage;
}

/** `sillwatch bundle FILE`: the application record with its proof, for an inspector. Never writes over a file. */
export async function runBundle(io: Io, file: string, options: BundleOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const filter = await readFilter(context, options);
    const request = {
      firm: context.firm,
      card: await describeFirm(context, options),
      filter,
      isWhole: options.whole === true,
      writtenAt: Temporal.Instant.fromEpochMilliseconds(io.now()).toString(),
      lang: options.lang ?? 'en-US',
    };
    const handle = openNew(file);
    let isWhole = false;
    try {
      await writeBundle(context.ledger, request, (piece) => {
        for (let done = 0; done < piece.length; ) done += writeSync(handle, piece, done);
      });
      isWhole = true;
    } finally {
      closeSync(handle);
      // Half a proof is worse than none.
      if (!isWhole) rmSync(file, { force: true });
    }
    io.err(`written to ${file}; README.txt in it says how to check it\n`);
    return EXIT.ok;
  });
}

function openNew(file: string): number {
  try {
    return openSync(file, 'wx', 0o600);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new CommandError(
      EXIT.found,
      `the bundle cannot be written: ${reason}`,
      'Name a new file in a folder that exists.',
    );
  }
}
