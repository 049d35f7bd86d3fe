import type { AnyFact } from '@sillwatch/trade';

/** Time, chance and the other tabs come in from outside. */
export interface NotebookDeps {
  readonly now: () => number;
  /** RFC 3339 with this phone's offset. */
  readonly timeText: (ms: number) => string;
  readonly randomBytes: (count: number) => Uint8Array<ArrayBuffer>;
  /** Tells the other tabs of this store that something was written. */
  readonly announce: () => void;
}

/** What was recorded, before the stamp. */
export interface NewFact {
  readonly kind: string;
  readonly property: string | null;
  readonly station: string | null;
  readonly body: unknown;
  readonly at?: string | undefined;
  readonly draft?: string | undefined;
}

export type SentVerdict =
  | { readonly id: string; readonly verdict: 'accepted' | 'already known' }
  | { readonly id: string; readonly verdict: 'refused'; readonly code: string; readonly detail: string };

export interface FetchedFacts {
  readonly property: string;
  readonly facts: readonly AnyFact[];
  readonly upTo: number;
  /** Asked for by hand: keep it until this day. */
  readonly takenUntil?: string;
}
