import { useState } from 'react';
import { useWords } from '../words/index.ts';
import { nameOfLanguage } from '../words/language.tsx';
import { Select } from './select.tsx';

export const LANGUAGES = ['en-US', 'es-US'] as const;
export type PaperLanguage = (typeof LANGUAGES)[number];

/** The language of the screen, where a paper can be written in it. */
export function useOwnLanguage(): PaperLanguage {
  const { locale } = useWords();
  return LANGUAGES.find((one) => one === locale) ?? 'en-US';
}

/** Of a paper: the screen's, also where that changes, until another is chosen. */
export function usePaperLanguage(): readonly [PaperLanguage, (chosen: PaperLanguage) => void] {
  const own = useOwnLanguage();
  const [chosen, setChosen] = useState<PaperLanguage>();
  return [chosen ?? own, setChosen];
}

interface Props {
  readonly value: PaperLanguage;
  readonly onPick: (value: PaperLanguage) => void;
}

export function LanguageOfPaper({ value, onPick }: Props) {
  const w = useWords();
  return (
    <Select
      label={w.desk.papers.language}
      value={value}
      options={LANGUAGES.map((one) => [one, nameOfLanguage(one.slice(0, 2))] as const)}
      onPick={(picked) => onPick(LANGUAGES.find((one) => one === picked) ?? 'en-US')}
    />
  );
}
