/** The terminal, handed in so that commands can be tested without one. */
export interface Io {
  out(text: string): void;
  err(text: string): void;
  /** a person is looking: progress and colour make sense */
  readonly isTerminal: boolean;
  /** milliseconds since 1970 */
  now(): number;
  random(count: number): Uint8Array;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** Exit codes, the same for every command. */
export const EXIT = {
  ok: 0,
  /** The command ran and found something wrong: a broken chain, rows that cannot be imported, a refused fact. */
  found: 1,
  /** The words of the call are off. */
  usage: 2,
  /** What was named does not exist. */
  missing: 3,
} as const;

/** Ends the command with a sentence that names the place and the remedy. */
export class CommandError extends Error {
  readonly code: number;
  readonly remedy: string;
  constructor(code: number, message: string, remedy: string) {
    super(message);
    this.name = 'CommandError';
    this.code = code;
    this.remedy = remedy;
  }
}

/** A line that is rewritten in place at a terminal, and silent in a pipe. */
export function createProgress(
  io: Io,
  what: string,
): { step(done: number, total: number): void; end(): void } {
  if (!io.isTerminal) return { step: () => undefined, end: () => undefined };
  let lastMs = 0;
  let shown = false;
  return {
    step: (done, total) => {
      const nowMs = io.now();
      if (nowMs - lastMs < 100 && done < total) return;
      lastMs = nowMs;
      shown = true;
      const width = 28;
      const filled = total === 0 ? width : Math.round((width * done) / total);
      io.err(`\r${what} [${'#'.repeat(filled)}${'-'.repeat(width - filled)}] ${done}/${total}`);
    },
    end: () => {
      if (shown) io.err('\n');
    },
  };
}

export interface Column<Row> {
  readonly title: string;
  readonly of: (row: Row) => string;
  readonly alignRight?: boolean;
}

/** Plain columns, two blanks apart; the header only where there are rows. */
export function formatTable<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): string {
  if (rows.length === 0) return '';
  const cells = [
    columns.map((column) => column.title),
    ...rows.map((row) => columns.map((column) => column.of(row))),
  ];
  const widths = columns.map((_, index) => Math.max(...cells.map((line) => line[index]?.length ?? 0)));
  return cells
    .map((line) =>
      line
        .map((cell, index) => {
          const width = widths[index] ?? 0;
          return columns[index]?.alignRight === true ? cell.padStart(width) : cell.padEnd(width);
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
    .concat('\n');
}
