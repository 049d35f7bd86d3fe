import { findDay } from '@sillwatch/trade';
import type { Document, TableRow } from '../document/model.ts';
import type { Binding } from '../document/pdf/renderTogether.ts';
import { type FirmCard, paperFrame } from './firm.ts';
import { monthInWords, shortDay } from './format.ts';
import { type PaperLanguage, sayIn } from './words/say.ts';

/** Why the letter of a property is not written with the others of its month. */
export const LETTER_GAPS = ['no customer', 'no address', 'no station', 'no label profile'] as const;
export type LetterGap = (typeof LETTER_GAPS)[number];

/** What of a property decides whether its letter can be posted as it is. */
export interface LetterSubject {
  readonly customer: string;
  readonly street: string;
  readonly town: string;
  /** in service */
  readonly stations: number;
  /** False = the firm has no label profile by the property's id for it, so the letter could not say when the next work is due. */
  readonly hasProfile: boolean;
}

/** What is missing for a letter that nobody reads over before it is posted; empty = nothing. */
export function letterGaps({
  customer,
  street,
  town,
  stations,
  hasProfile,
}: LetterSubject): readonly LetterGap[] {
  const isMissing: Readonly<Record<LetterGap, boolean>> = {
    'no customer': customer.trim() === '',
    'no address': street.trim() === '' || town.trim() === '',
    'no station': stations === 0,
    'no label profile': !hasProfile,
  };
  return LETTER_GAPS.filter((gap) => isMissing[gap]);
}

export interface MonthOfLetters {
  readonly firm: FirmCard;
  /** `YYYY-MM` */
  readonly month: string;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  /** Of what is said to the office; each letter has its own. */
  readonly lang: PaperLanguage;
}

/** What the file of a month's letters says of itself. */
export function lettersBinding(
  { firm, month, writtenAt, lang }: MonthOfLetters,
  eachOnNew: Binding['eachOnNew'],
): Binding {
  const title = sayIn(lang)('letters.title', { month: monthInWords(month, lang) });
  return { title, author: firm.name, lang, writtenAt, eachOnNew };
}

export interface LetterLeftOut {
  readonly property: string;
  readonly name: string;
  /** As recorded, `YYYY-MM-DD`. */
  readonly renewsOn: string;
  readonly gaps: readonly LetterGap[];
}

/** The sheet after the letters, for the office: which were not written, what is missing and what helps. */
export function lettersLeftOut(of: MonthOfLetters, leftOut: readonly LetterLeftOut[]): Document {
  const say = sayIn(of.lang);
  return {
    ...paperFrame(say, of.firm, of.writtenAt, false),
    title: say('letters.left'),
    subtitle: say('letters.left.subtitle', {
      n: leftOut.length,
      month: monthInWords(of.month, of.lang),
    }),
    layout: 'portrait',
    blocks: [
      { kind: 'paragraph', tone: 'lead', text: say('letters.left.lead') },
      {
        kind: 'table',
        caption: say('letters.left.caption'),
        columns: [
          { header: say('letters.col.property'), align: 'left', share: 3 },
          { header: say('letters.col.ends'), align: 'left', share: 2 },
          { header: say('letters.col.missing'), align: 'left', share: 3 },
          { header: say('letters.col.remedy'), align: 'left', share: 5 },
        ],
        rows: leftOut.flatMap(({ property, name, renewsOn, gaps }) =>
          gaps.map(
            (gap): TableRow => ({
              cells: [
                name.trim() === '' ? property : name,
                dayOrText(renewsOn, of.lang),
                say(`letters.gap.${gap}`),
                say(`letters.remedy.${gap}`),
              ],
              look: 'plain',
            }),
          ),
        ),
      },
    ],
  };
}

function dayOrText(text: string, lang: PaperLanguage): string {
  const day = findDay(text);
  return day === undefined ? text : shortDay(day, lang);
}

/** What a letter lacks and what helps, one after the other, in plain words. */
export function gapInWords(gap: LetterGap, lang: PaperLanguage): string {
  const say = sayIn(lang);
  return `${say(`letters.gap.${gap}`)}. ${say(`letters.remedy.${gap}`)}`;
}
