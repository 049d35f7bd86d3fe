import { useWords } from '../words/index.ts';
import { chooseLanguage, LANGUAGES, nameOfLanguage, useLanguage } from '../words/language.tsx';

/** Each language by its own name, so that one who does not read this one finds hers. */
export function LanguageChoice() {
  const w = useWords();
  const language = useLanguage();
  return (
    <label className="language">
      <span className="hidden-words">{w.app.language}</span>
      <select value={language} onChange={(event) => chooseLanguage(event.target.value)}>
        {LANGUAGES.map((code) => (
          <option key={code} value={code} lang={code}>
            {nameOfLanguage(code)}
          </option>
        ))}
      </select>
    </label>
  );
}
