import {
  type BoundPaper,
  type LetterGap,
  letterGaps,
  lettersLeftOut,
  type MonthOfLetters,
  type PaperLanguage,
  paperLanguageOf,
} from '@sillwatch/paper';
import { Problem } from '../http/problems.ts';
import { getProperty } from '../routes/properties.ts';
import { dayOf } from '../routes/reports.ts';
import type { BookEntry } from '../work/book.ts';
import { type PaperServices, propertyPaper } from './propertyPaper.ts';

/** An agreement that ends in a month. */
export interface Renewal {
  readonly property: string;
  readonly name: string;
  readonly customer: string;
  /** `YYYY-MM-DD` */
  readonly renewsOn: string;
  /** The customer's own. */
  readonly lang: PaperLanguage;
  /** Empty = the letter can be written. */
  readonly gaps: readonly LetterGap[];
}

export interface Renewals {
  readonly letters: readonly Renewal[];
  readonly leftOut: readonly Renewal[];
}

/** All agreements that end in a month (`YYYY-MM`), the earliest first: those whose letter can be written, and the others. */
export function listRenewals(entries: readonly BookEntry[], month: string): Renewals {
  const renewals = entries
    .flatMap((entry): readonly Renewal[] => {
      const { property, name, customer, renewsOn, language } = entry;
      if (renewsOn === null || !renewsOn.startsWith(`${month}-`)) return [];
      const lang = paperLanguageOf(language);
      return [{ property, name, customer, renewsOn, lang, gaps: letterGaps(entry) }];
    })
    .sort((a, b) => compare(a.renewsOn, b.renewsOn) || compare(a.name, b.name));
  return {
    letters: renewals.filter(({ gaps }) => gaps.length === 0),
    leftOut: renewals.filter(({ gaps }) => gaps.length > 0),
  };
}

export interface LettersAsked {
  readonly month: MonthOfLetters;
  /** `own`: each in its customer's language. */
  readonly letters: 'own' | PaperLanguage;
  /** `YYYY-MM-DD`; absent = today where each property is. */
  readonly asOf: string | undefined;
}

/** Read and handed on together. */
const PAGE = 10;

/** The letters, page by page, and last the sheet that names what was left out. */
export async function* eachRenewalLetter(
  services: PaperServices,
  of: { readonly firm: string; readonly firmName: string },
  { letters, leftOut }: Renewals,
  asked: LettersAsked,
): AsyncGenerator<readonly BoundPaper[]> {
  const firm = await services.ledger.getFirm(of.firm);
  for (let from = 0; from < letters.length; from += PAGE) {
    const page: BoundPaper[] = [];
    for (const { property, name, lang } of letters.slice(from, from + PAGE)) {
      const state = await getProperty(services, of.firm, property);
      const { document } = await propertyPaper(services, of, state, 'renewal letter', {
        visit: null,
        asOf: dayOf(services, state, firm, asked.asOf),
        lang: asked.letters === 'own' ? lang : asked.letters,
      });
      page.push({ mark: name, document });
      // A month of letters takes seconds to read: phones that record meanwhile get their turn.
      await new Promise((resolve) => setImmediate(resolve));
    }
    yield page;
  }
  if (leftOut.length === 0) return;
  const document = lettersLeftOut(asked.month, leftOut);
  yield [{ mark: document.title, document }];
}

/** Throws `paper cannot be written`, with what is missing, where no letter of the month can be. */
export function checkAnyLetter({ letters, leftOut }: Renewals, month: string): void {
  if (letters.length > 0) return;
  throw new Problem(
    'paper cannot be written',
    leftOut.length === 0
      ? `No agreement ends in ${month}.`
      : `None of the ${leftOut.length} letters of ${month} can be written: something is missing at each property.`,
  );
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
