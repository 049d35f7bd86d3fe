import { once } from 'node:events';
import { createWriteStream } from 'node:fs';
import { BackupError, backup, eachFactPage, LedgerNotEmptyError, restore } from '@sillwatch/ledger';
import { type CommonOptions, print, withLedger, withNewLedger } from '../context.ts';
import { CommandError, createProgress, EXIT, type Io } from '../io.ts';

/** `sillwatch verify`: exit 1 names the first entry that does not fit the chain. */
export async function runVerify(io: Io, options: CommonOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const progress = createProgress(io, 'entries');
    const check = await context.ledger.verify(context.firm, progress.step);
    progress.end();
    print(context, { firm: context.firm, ...check }, () =>
      check.sound
        ? `${check.facts} entries, the chain is sound. Its head: ${check.head}\nWrite the head down elsewhere: whoever holds it can tell later that nothing before it was changed.\n`
        : `The chain breaks at entry ${check.brokenAtSeq}: ${check.why}\nThe stored record was changed outside Sillwatch. Keep this database as it is and compare it with a backup.\n`,
    );
    return check.sound ? EXIT.ok : EXIT.found;
  });
}

/** `sillwatch rebuild`: computes all state anew. */
export async function runRebuild(io: Io, options: CommonOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const progress = createProgress(io, 'properties');
    await context.ledger.rebuild(context.firm, progress.step);
    progress.end();
    print(
      context,
      { firm: context.firm, rebuilt: true },
      () => 'All state was computed anew from the entries.\n',
    );
    return EXIT.ok;
  });
}

export interface ExportOptions extends CommonOptions {
  readonly out?: string;
  readonly property?: string;
}

/** `sillwatch export`: every entry with its receipt, one JSON object a line, in ledger order. */
export async function runExport(io: Io, options: ExportOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const file =
      options.out === undefined ? undefined : createWriteStream(options.out, { flags: 'wx', mode: 0o600 });
    const failed = file === undefined ? undefined : once(file, 'error');
    let written = 0;
    const query = options.property === undefined ? {} : { property: options.property };
    for await (const page of eachFactPage(context.ledger, context.firm, query)) {
      const text = page.map((fact) => `${JSON.stringify(fact)}\n`).join('');
      if (file === undefined) io.out(text);
      else if (!file.write(text)) await Promise.race([once(file, 'drain'), failed]);
      written += page.length;
    }
    if (file !== undefined) {
      file.end();
      await Promise.race([once(file, 'finish'), failed]);
      io.err(`${written} entries written to ${options.out}\n`);
    }
    return EXIT.ok;
  });
}

/** `sillwatch backup FILE`: all firms of the ledger, while work goes on. */
export async function runBackup(io: Io, file: string, options: CommonOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const progress = createProgress(io, 'entries');
    const report = await explainBackup(() => backup(context.ledger, file, progress.step));
    progress.end();
    print(
      context,
      { file, ...report },
      () =>
        `${report.facts} entries of ${report.firms.length} firms are in ${file}. Accounts are not in it: see docs/how-to/back-up-and-restore.md.\n`,
    );
    return EXIT.ok;
  });
}

/** `sillwatch restore FILE`: into an empty ledger only, all or nothing. */
export async function runRestore(io: Io, file: string, options: CommonOptions): Promise<number> {
  return withNewLedger(io, options.data, async (ledger) => {
    const progress = createProgress(io, 'bytes');
    const report = await explainBackup(() => restore(file, ledger, progress.step));
    progress.end();
    print(
      { io, json: options.json === true },
      { file, ...report },
      () => `${report.facts} entries of ${report.firms.length} firms restored; every chain is sound.\n`,
    );
    return EXIT.ok;
  });
}

async function explainBackup<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof LedgerNotEmptyError) {
      throw new CommandError(
        EXIT.found,
        'the ledger is not empty: a restore never writes over entries',
        'Name an empty folder with --data.',
      );
    }
    if (error instanceof BackupError)
      throw new CommandError(
        EXIT.found,
        error.message,
        'Nothing was kept; use another backup or another file name.',
      );
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') {
      throw new CommandError(
        EXIT.missing,
        `there is no file or folder as named: ${error.message}`,
        'Check the path.',
      );
    }
    throw error;
  }
}
