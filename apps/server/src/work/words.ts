import { CAUTIONS, TELL_WORDS } from '@sillwatch/trade';

interface Worded {
  readonly key: string;
  readonly words: string;
}

const TELLS: ReadonlyMap<string, string> = new Map(Object.entries(TELL_WORDS));
const CAUTION_WORDS: ReadonlyMap<string, string> = new Map(Object.entries(CAUTIONS));

/** What to tell the customer, in words; a key without words stands for itself. */
export function tellWords(key: string): Worded {
  return { key, words: TELLS.get(key) ?? key };
}

export function cautionWords(key: string): Worded {
  return { key, words: CAUTION_WORDS.get(key) ?? key };
}
