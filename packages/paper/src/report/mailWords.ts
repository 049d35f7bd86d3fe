import type { Day, PropertyState } from '@sillwatch/trade';
import { dayInWords } from './format.ts';
import { type PaperLanguage, sayIn } from './words/say.ts';

/** Papers that go out by e-mail. */
export const MAIL_PAPERS = ['visit report', 'renewal letter', 'station list'] as const;
export type MailPaper = (typeof MAIL_PAPERS)[number];

export interface MailWordsInput {
  readonly paper: MailPaper;
  readonly firmName: string;
  readonly property: PropertyState;
  /** Of the visit; null where the paper is of none. */
  readonly day: Day | null;
  readonly lang?: PaperLanguage;
}

/** Subject and plain text of the message that carries a paper. The subject is one line whatever names hold. */
export function mailWords(input: MailWordsInput): { readonly subject: string; readonly text: string } {
  const say = sayIn(input.lang ?? 'en-US');
  const { body } = input.property;
  const customer = body?.customer.name.trim() ?? '';
  const params = {
    name: customer === '' ? say('mail.customer') : customer,
    property: body?.name ?? input.property.property,
    firm: input.firmName,
    day: input.day === null ? say('not recorded') : dayInWords(input.day, say.lang),
  };
  const key = KEYS[input.paper];
  return {
    subject: say(`mail.subject.${key}`, params)
      .replace(/[\p{Cc}\p{Cs}\u2028\u2029]+/gu, ' ')
      .trim()
      .slice(0, 200),
    text: say(`mail.text.${key}`, params),
  };
}

const KEYS = { 'visit report': 'visit', 'renewal letter': 'renewal', 'station list': 'stations' } as const;

/** The paper language nearest to a BCP 47 tag: Spanish of any country is Spanish, all else English. */
export function paperLanguageOf(tag: string | undefined): PaperLanguage {
  return /^es\b/i.test(tag ?? '') ? 'es-US' : 'en-US';
}

/** The day of a visit as the property's list tells it; null when it is not there. */
export function dayOfVisit(property: PropertyState, visit: string | null): Day | null {
  return property.visits.find((one) => one.visit === visit)?.day ?? null;
}
