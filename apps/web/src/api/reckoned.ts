/** What a page of the figure threads says of itself, beside what it brings. */
export interface ReckonedHead {
  readonly state: 'done' | 'reckoning';
  /** the day that it is about */
  readonly asOf: string;
  /** null = not yet */
  readonly reckonedAt: string | null;
  /** entries recorded since then that are not in it */
  readonly behind: number;
}

const ASK_AGAIN_MS = 1000;
/** The last answer is on the screen already: no hurry. */
const RENEW_MS = 3000;

/** When to ask again: in a moment while there is no answer, somewhat later while the answer is behind what was recorded. */
export function askAgainAfter(head: ReckonedHead | undefined): number | false {
  if (head === undefined) return false;
  if (head.state === 'reckoning') return ASK_AGAIN_MS;
  return head.behind > 0 ? RENEW_MS : false;
}
