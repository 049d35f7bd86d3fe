import { createContext, useContext } from 'react';
import type { Words, YardWords } from './en.ts';

export type { Words, YardWords } from './en.ts';

/** Filled by LanguageProvider; there is no default, so that no language is fetched that nobody reads. */
export const WordsContext = createContext<YardWords | null>(null);
/** Filled by DeskWords, above the office's screens only. */
export const DeskWordsContext = createContext<Words['desk'] | null>(null);

export function useWords(): Words {
  const words = useContext(WordsContext);
  const desk = useContext(DeskWordsContext);
  if (words === null) throw new Error('no LanguageProvider above this screen');
  return join(words, desk);
}

const joined = new WeakMap<YardWords, { readonly desk: Words['desk'] | null; readonly words: Words }>();

/** One object for each pair, so that what hangs on it is not reckoned again with every drawing. */
function join(words: YardWords, desk: Words['desk'] | null): Words {
  const known = joined.get(words);
  if (known !== undefined && known.desk === desk) return known.words;
  const whole = desk === null ? withoutDesk(words) : { ...words, desk };
  joined.set(words, { desk, words: whole });
  return whole;
}

/** In the yard nobody asks for the office's words; whoever does is told, and not shown an empty screen. */
function withoutDesk(words: YardWords): Words {
  return {
    ...words,
    get desk(): never {
      throw new Error('the words of the office are fetched with its screens: put DeskWords above this one');
    },
  };
}
