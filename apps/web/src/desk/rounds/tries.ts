import type { MoveResult } from '@sillwatch/rounds';
import type { Cell } from '../../api/plans.ts';

/** What the server says of one visit in one cell. */
export type Tried =
  | { readonly state: 'asking' }
  | { readonly state: 'told'; readonly move: MoveResult }
  | { readonly state: 'refused'; readonly error: Error };

/** One visit tried in many cells: each is asked about once, and only the one under the pointer. */
export interface Tries {
  /** What is known of the cell; what is not is asked after a short stay, and asking about any other cell ends. */
  look(cell: Cell): Tried;
  /** The answer for the cell, asked at once if it is not known. */
  settle(cell: Cell): Promise<Tried>;
  end(): void;
}

/** A pointer that only passes over a cell stays for less. */
const STAY_MILLISECONDS = 90;

const ASKING: Tried = { state: 'asking' };

export function createTries(
  ask: (cell: Cell, signal: AbortSignal) => Promise<MoveResult>,
  onNews: () => void,
): Tries {
  const known = new Map<string, Tried>();
  let current: { readonly key: string; readonly stop: AbortController; answer?: Promise<Tried> } | undefined;

  const start = (cell: Cell, stop: AbortController): Promise<Tried> =>
    ask(cell, stop.signal).then(
      (move): Tried => keep(cell, stop, { state: 'told', move }),
      (error: unknown): Tried =>
        keep(cell, stop, {
          state: 'refused',
          error: error instanceof Error ? error : new Error(String(error)),
        }),
    );

  function keep(cell: Cell, { signal }: AbortController, tried: Tried): Tried {
    // One that was broken off says nothing about the cell.
    if (signal.aborted) return tried;
    known.set(keyOf(cell), tried);
    onNews();
    return tried;
  }

  return {
    look(cell) {
      const key = keyOf(cell);
      const told = known.get(key);
      if (current?.key === key) return told ?? ASKING;
      current?.stop.abort();
      const stop = new AbortController();
      const own: NonNullable<typeof current> = { key, stop };
      current = own;
      if (told !== undefined) return told;
      const timer = setTimeout(() => {
        own.answer ??= start(cell, stop);
      }, STAY_MILLISECONDS);
      stop.signal.addEventListener('abort', () => clearTimeout(timer));
      return ASKING;
    },
    async settle(cell) {
      this.look(cell);
      const told = known.get(keyOf(cell));
      if (told !== undefined || current === undefined) return told ?? ASKING;
      current.answer ??= start(cell, current.stop);
      return current.answer;
    },
    end() {
      current?.stop.abort();
      current = undefined;
    },
  };
}

function keyOf({ day, person }: Cell): string {
  return `${day} ${person}`;
}
