/** Rows that a listing gives when the caller names no limit. */
export const DEFAULT_FACTS = 10_000;
export const DEFAULT_PROPERTIES = 1_000;

/** Longest id, kind, property, station or branch that is indexed, in characters. */
export const LONGEST_KEY = 200;
