import { type ReactNode, useEffect, useState, useSyncExternalStore } from 'react';
import type { YardWords } from './en.ts';
import { DeskWordsContext, type Words, WordsContext } from './index.ts';

/** A language is a file of two letters in this folder that exports `words`; each is fetched only when it is used. */
const FILES = import.meta.glob<YardWords>('./??.ts', { import: 'words' });
/** The words of the office's own screens; a phone in a yard does not fetch them. */
const DESK_FILES = import.meta.glob<Words['desk']>('./??.desk.ts', { import: 'desk' });
const KEY = 'sillwatch language';
const FALLBACK = 'en';
const listeners = new Set<() => void>();

export const LANGUAGES: readonly string[] = Object.keys(FILES)
  .map((path) => path.slice(2, -3))
  .sort();

/** What was chosen on this device, else the first of the browser's languages that there is, else English. */
export function currentLanguage(): string {
  const kept = readKept();
  if (kept !== null && LANGUAGES.includes(kept)) return kept;
  const wanted = navigator.languages.map((tag) => tag.slice(0, 2).toLowerCase());
  return wanted.find((code) => LANGUAGES.includes(code)) ?? FALLBACK;
}

export function chooseLanguage(code: string): void {
  try {
    localStorage.setItem(KEY, code);
  } catch {
    // A browser that keeps nothing still changes it for now.
  }
  chosen = code;
  for (const listener of listeners) listener();
}

/** Stands over what is kept: for browsers that keep nothing. */
let chosen: string | undefined;

function readKept(): string | null {
  if (chosen !== undefined) return chosen;
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

export function useLanguage(): string {
  return useSyncExternalStore((listener) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  }, currentLanguage);
}

/** The language's own name for itself: English, español. */
export function nameOfLanguage(code: string): string {
  const name = new Intl.DisplayNames([code], { type: 'language' }).of(code) ?? code;
  return name.charAt(0).toLocaleUpperCase(code) + name.slice(1);
}

export async function loadWords(code: string): Promise<YardWords> {
  const load = FILES[`./${code}.ts`];
  if (load === undefined) throw new RangeError(`no words for "${code}": add src/words/${code}.ts`);
  return load();
}

/** Fetches the words of the office's screens in the language in use, and shows the screens once they are here. */
export function DeskWords({ children }: { readonly children: ReactNode }) {
  const language = useLanguage();
  const [desk, setDesk] = useState<Words['desk'] | null>(null);
  useEffect(() => {
    let isCurrent = true;
    void DESK_FILES[`./${language}.desk.ts`]?.().then((loaded) => {
      if (isCurrent) setDesk(loaded);
    });
    return () => {
      isCurrent = false;
    };
  }, [language]);
  return desk === null ? null : <DeskWordsContext value={desk}>{children}</DeskWordsContext>;
}

interface Props {
  /** Fetched before the first paint, so that nothing flickers. */
  readonly first: YardWords;
  readonly children: ReactNode;
}

export function LanguageProvider({ first, children }: Props) {
  const language = useLanguage();
  const [words, setWords] = useState(first);
  useEffect(() => {
    let isCurrent = true;
    void loadWords(language).then((loaded) => {
      if (isCurrent) setWords(loaded);
    });
    return () => {
      isCurrent = false;
    };
  }, [language]);
  useEffect(() => {
    document.documentElement.lang = words.locale;
  }, [words]);
  return <WordsContext value={words}>{children}</WordsContext>;
}
