import { createContext, useContext } from 'react';
import type { Words } from './en.ts';

export type { Words } from './en.ts';

/** Filled by LanguageProvider; there is no default, so that no language is fetched that nobody reads. */
export const WordsContext = createContext<Words | null>(null);

export function useWords(): Words {
  const words = useContext(WordsContext);
  if (words === null) throw new Error('no LanguageProvider above this screen');
  return words;
}
