import { type DiagramWords, ENGLISH, SPANISH } from '@sillwatch/ring';
import { EN, type MessageKey, type Messages } from './en.ts';
import { ES } from './es.ts';
import { fill } from './fill.ts';

/** Languages that papers can be written in, BCP 47. A further one is one more file beside en.ts. */
export const PAPER_LANGUAGES = ['en-US', 'es-US'] as const;
export type PaperLanguage = (typeof PAPER_LANGUAGES)[number];

const MESSAGES: Readonly<Record<PaperLanguage, Messages>> = { 'en-US': EN, 'es-US': ES };

/** The words on a diagram, in the language of the paper that it is or stands on. */
export const DIAGRAM_WORDS: Readonly<Record<PaperLanguage, DiagramWords>> = {
  'en-US': ENGLISH,
  'es-US': SPANISH,
};

export interface Say {
  readonly lang: PaperLanguage;
  /** The message with `{name}` replaced by the parameter of that name; `n` chooses between one and other. */
  (key: MessageKey, params?: Readonly<Record<string, string | number>>): string;
}

/** The words of one language as a function. */
export function sayIn(lang: PaperLanguage): Say {
  const messages = MESSAGES[lang];
  const plural = new Intl.PluralRules(lang);
  function say(key: MessageKey, params: Readonly<Record<string, string | number>> = {}): string {
    const message = messages[key];
    const n = params['n'];
    const template =
      typeof message === 'string'
        ? message
        : typeof n === 'number' && plural.select(n) === 'one'
          ? message.one
          : message.other;
    return fill(key, template, params);
  }
  return Object.assign(say, { lang });
}
