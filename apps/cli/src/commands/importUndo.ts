import { createImportShelf, type PastImport, PROBLEMS, Problem, withdrawImport } from '@sillwatch/server';
import { uuidV7 } from '@sillwatch/trade';
import { type CommonOptions, print, withLedger } from '../context.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';

export interface UndoOptions extends CommonOptions {
  readonly why?: string;
  readonly evenSo?: boolean;
  readonly by: string;
}

/** `sillwatch import --list`: what was imported, the latest first, by which it can be taken back. */
export async function listImports(io: Io, options: CommonOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const imports = await createImportShelf(context.ledger).list(context.firm);
    print(context, { imports }, () =>
      imports.length === 0 ? 'Nothing was imported yet.\n' : tableOf(imports),
    );
    return EXIT.ok;
  });
}

function tableOf(imports: readonly PastImport[]): string {
  return formatTable(
    [
      { title: 'import', of: ({ id }) => id },
      { title: 'received', of: ({ importedAt }) => importedAt },
      { title: 'by', of: ({ by }) => by },
      { title: 'entries', of: ({ facts }) => String(facts), alignRight: true },
      { title: 'taken back', of: ({ takenBackAt }) => takenBackAt ?? '' },
    ],
    imports,
  );
}

/** `sillwatch import --undo ID --why WORDS`: withdraws every entry of one import by corrections, all or nothing. */
export async function undoImport(io: Io, id: string, options: UndoOptions): Promise<number> {
  const why = options.why?.trim() ?? '';
  if (why.length < 3)
    throw new CommandError(
      EXIT.usage,
      'taking an import back needs a reason',
      'Give one with --why: it stands in the record of each entry.',
    );
  return withLedger(io, options, async (context) => {
    const { ledger, firm } = context;
    const person = { id: options.by, firm, branch: null };
    const deps = { now: io.now, newId: () => uuidV7(io.now(), io.random(10)) };
    const request = { id, why, evenSo: options.evenSo === true };
    const answer = await withdrawImport({ ledger, deps }, person, request).catch(explain);
    print(
      context,
      answer,
      () =>
        `Taken back: ${answer.withdrawn} entries withdrawn, ${answer.alreadyWithdrawn} were before` +
        `${answer.leaning === 0 ? '' : `; ${answer.leaning} later entries are passed over from now on`}.\n`,
    );
    return EXIT.ok;
  });
}

/** In the terminal's words: what stands in the way, each with its place, and what to do. */
function explain(error: unknown): never {
  if (!(error instanceof Problem)) throw error;
  const places = error.errors.map(({ at, message }) => `  ${at}: ${message}\n`).join('');
  throw new CommandError(
    error.code === 'not found' ? EXIT.missing : EXIT.found,
    places === '' ? error.detail : `${error.detail}\n${places.trimEnd()}`,
    REMEDIES[error.code] ?? PROBLEMS[error.code].remedy,
  );
}

const REMEDIES: Readonly<Record<string, string>> = {
  'not found': 'List the imports with: sillwatch import --list.',
  'import leaned on':
    'Withdraw those entries first, or go ahead with --even-so: they stay and are passed over.',
};
