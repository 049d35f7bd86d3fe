import { Worker } from 'node:worker_threads';
import type {
  ColumnGuess,
  FileProblem,
  ImportPlan,
  Known,
  Mapping,
  MappingProblem,
  PaperLanguage,
} from '@sillwatch/paper';
import type { AnyFact, Day, PropertyState, StationModel } from '@sillwatch/trade';

export interface ImportFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** All that the worker needs; it opens no database. */
export interface ImportJob {
  readonly files: readonly ImportFile[];
  /** parts of a mapping to lay over the guess; undefined = the guess alone */
  readonly mapping: unknown;
  /** of what stands in the way */
  readonly lang: PaperLanguage;
  readonly context: {
    readonly firm: string;
    readonly by: string;
    readonly today: Day;
    /** RFC 3339 with offset: when a change of what is recorded is made */
    readonly now: string;
    readonly existing: readonly PropertyState[];
    readonly known: ReadonlyMap<string, AnyFact>;
    /** of `known`, those whose whole import was taken back */
    readonly takenBack: ReadonlySet<string>;
    readonly models: Readonly<Record<string, StationModel>>;
    readonly branches: readonly Known[];
    readonly profiles: readonly Known[];
    /** for fields without a column: the branch, profile and time zone of a firm that has only one */
    readonly firmDefaults: Mapping['defaults'];
  };
}

export type ImportOutcome =
  | {
      readonly ok: true;
      readonly plan: ImportPlan;
      readonly mapping: Mapping;
      readonly columns: readonly ColumnGuess[];
      readonly warnings: readonly string[];
    }
  | {
      readonly ok: false;
      readonly files: readonly FileProblem[];
      readonly mapping: readonly MappingProblem[];
    };

export interface ImportProgress {
  readonly stage: 'reading' | 'planning' | 'storing';
  readonly done: number;
  /** 0 = not known yet */
  readonly total: number;
}

/** What the worker posts. */
export type ImportMessage =
  | { readonly kind: 'progress'; readonly progress: ImportProgress }
  | { readonly kind: 'outcome'; readonly outcome: ImportOutcome };

/** The worker went out of its memory or time; the file is too much for one import. */
export class ImportTooLargeError extends Error {}

const MOST_MEMORY_MIB = 2048;
const MOST_MILLISECONDS = 10 * 60_000;

/**
 * Reads the files and plans the facts in a thread of its own, so that phones go on recording meanwhile.
 * Rejects with ImportTooLargeError, or with the worker's own fault.
 */
export function runImportJob(
  job: ImportJob,
  onProgress: (progress: ImportProgress) => void,
  signal: AbortSignal,
): Promise<ImportOutcome> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./importWorker.ts', import.meta.url), {
      workerData: job,
      resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MIB },
    });
    const end = (settle: () => void): void => {
      clearTimeout(timer);
      signal.removeEventListener('abort', onAbort);
      settle();
      void worker.terminate();
    };
    const onAbort = (): void => end(() => reject(new Error('the caller went away')));
    const timer = setTimeout(
      () => end(() => reject(new ImportTooLargeError('reading took longer than ten minutes'))),
      MOST_MILLISECONDS,
    );
    signal.addEventListener('abort', onAbort);
    worker.on('message', (message: ImportMessage) => {
      if (message.kind === 'progress') onProgress(message.progress);
      else end(() => resolve(message.outcome));
    });
    worker.on('error', (error) => {
      const isMemory = error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';
      end(() => reject(isMemory ? new ImportTooLargeError('it needs more than 2 GiB of memory') : error));
    });
    worker.on('exit', (code) => end(() => reject(new Error(`the import worker ended with ${code}`))));
  });
}
