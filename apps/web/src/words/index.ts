import { createContext, useContext } from 'react';
import { en, type Words } from './en.ts';

export type { Words } from './en.ts';

export const WordsContext = createContext<Words>(en);

export function useWords(): Words {
  return useContext(WordsContext);
}
