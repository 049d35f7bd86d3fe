/** Lets the event loop serve others: SQLite answers at once, so a long walk would otherwise never give way. */
export function breathe(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
