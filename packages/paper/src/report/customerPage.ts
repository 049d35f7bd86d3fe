import type { AnyFact, Day, PropertyState, VisitSummary } from '@sillwatch/trade';
import type { NextVisit } from '../calendar/propertyFeed.ts';
import { toSafe } from '../document/html.ts';
import type { FirmCard } from './firm.ts';
import { dayInWords } from './format.ts';
import { type LookOf, looksByVisit, visitFoundInWords } from './visitFound.ts';
import { type PaperLanguage, type Say, sayIn } from './words/say.ts';

export interface CustomerPageInput {
  readonly firm: FirmCard;
  readonly property: PropertyState;
  /** All facts of the property: what was found at each visit. */
  readonly facts: readonly AnyFact[];
  /** What a customer may be told of the visits to come. */
  readonly next: readonly NextVisit[];
  /** Last day on which the address works; null = until it is taken back. */
  readonly until: Day | null;
  /** True when the label profile behind it is invented. */
  readonly invented: boolean;
  /** Address of a visit's report, relative to the page. */
  readonly hrefOf: (visit: string, format: 'html' | 'pdf') => string;
  readonly lang?: PaperLanguage;
}

/** Its own style, in full, so that a policy can name it by its hash and forbid all else. */
export const PAGE_STYLE = `
:root { color-scheme: light; --ink: #1c2421; --soft: #55615c; --line: #ccd4d0; --deep: #17483b; --wash: #f3f6f4; --warn: #8a4b00; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 40rem; padding: 2rem 1.25rem 3rem; color: var(--ink); background: #fff;
  font: 1.0625rem/1.6 Inter, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif; }
header { border-bottom: 2px solid var(--deep); padding-bottom: .75rem; margin-bottom: 2rem; }
header p { margin: 0; color: var(--deep); font-weight: 600; }
h1 { font-size: 1.75rem; line-height: 1.2; margin: 0 0 .25rem; letter-spacing: -.015em; text-wrap: balance; }
h2 { font-size: 1.25rem; margin: 2.5rem 0 .5rem; color: var(--deep); }
.address { color: var(--soft); margin: 0; }
.next { margin: 0; padding: 1rem 1.25rem; background: var(--wash); border-left: 4px solid var(--deep); }
.next p { margin: .25rem 0; }
.banner { border: 2px dashed var(--warn); padding: .6rem .9rem; margin: 0 0 1.5rem; }
ul { list-style: none; padding: 0; margin: 0; }
li { padding: 1rem 0; border-bottom: 1px solid var(--line); }
li p { margin: 0; }
.day { font-weight: 600; }
.soft { color: var(--soft); }
.meaning { margin: 1rem 0 0; font-size: .9375rem; }
a { display: inline-block; padding: .75rem 1.5rem .75rem 0; color: var(--deep); }
a:focus-visible { outline: 3px solid var(--deep); outline-offset: 2px; }
footer { margin-top: 3rem; padding-top: 1rem; border-top: 1px solid var(--line); color: var(--soft); font-size: .9375rem; }
`;

/** What a customer sees at the secret address of one property: the visits, each with its report, and the next one. No script. */
export function customerPage(input: CustomerPageInput): string {
  const say = sayIn(input.lang ?? 'en-US');
  const { body } = input.property;
  const name = body?.name ?? say('not recorded');
  const address = body?.address;
  const visits = [...input.property.visits].sort((a, b) => b.day - a.day);
  const looks = looksByVisit(input.facts);
  return frame(
    say,
    name,
    `<header><p>${toSafe(input.firm.name)}</p></header>
<main>
${input.invented ? `<p class="banner"><strong>${toSafe(say('invented.title'))}</strong> ${toSafe(say('invented.text'))}</p>\n` : ''}<h1>${toSafe(name)}</h1>
${address === undefined ? '' : `<p class="address">${toSafe(`${address.street}, ${address.town}, ${address.state} ${address.postcode}`)}</p>`}
<h2>${toSafe(say('page.next'))}</h2>
<div class="next">${nextInWords(input.next, say)
      .map((text) => `<p>${toSafe(text)}</p>`)
      .join('')}</div>
<h2>${toSafe(say('page.visits'))}</h2>
${visits.length === 0 ? `<p>${toSafe(say('page.visits.none'))}</p>` : `<ul>\n${visits.map((visit) => visitItem(visit, looks.get(visit.visit) ?? [], input, say)).join('\n')}\n</ul>\n<p class="soft meaning">${toSafe(say('visit.lead.meaning'))}</p>`}
</main>
<footer><p>${toSafe([say('page.keep'), ...(input.until === null ? [] : [say('page.until', { day: dayInWords(input.until, say.lang) })])].join(' '))}</p><p>${toSafe(say('foot'))}</p></footer>`,
  );
}

/** The same page whether an address never was, has run out or was taken back. */
export function gonePage(lang: PaperLanguage = 'en-US'): string {
  const say = sayIn(lang);
  return frame(
    say,
    say('page.gone.title'),
    `<main>\n<h1>${toSafe(say('page.gone.title'))}</h1>\n<p>${toSafe(say('page.gone.text'))}</p>\n</main>`,
  );
}

function frame(say: Say, title: string, body: string): string {
  return `<!doctype html>
<html lang="${say.lang}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow, noarchive">
<meta name="referrer" content="no-referrer">
<title>${toSafe(title)}</title>
<style>${PAGE_STYLE}</style>
</head>
<body>
${body}
</body>
</html>
`;
}

function nextInWords(next: readonly NextVisit[], say: Say): readonly string[] {
  return next.length === 0 ? [say('page.next.none')] : next.map((visit) => oneInWords(visit, say));
}

function oneInWords(visit: NextVisit, say: Say): string {
  const words = (day: Day) => dayInWords(day, say.lang);
  switch (visit.kind) {
    case 'promised':
      return say('page.next.promised', { day: words(visit.day), from: visit.from, to: visit.to });
    case 'planned':
      return say('page.next.planned', { day: words(visit.day) });
    case 'due':
      return say('page.next.due', { day: words(visit.target), latest: words(visit.latest) });
    case 'late':
      return say('page.next.late', { day: words(visit.latest) });
  }
}

function visitItem(
  visit: VisitSummary,
  looks: readonly LookOf[],
  input: CustomerPageInput,
  say: Say,
): string {
  const counts = [
    say('page.visit', { n: visit.opened }),
    ...(visit.unopened === 0 ? [] : [say('page.visit.unopened', { n: visit.unopened })]),
  ].join(', ');
  const found = visitFoundInWords(looks, say).join(' ');
  const day = dayInWords(visit.day, say.lang);
  const link = (format: 'html' | 'pdf', words: string) =>
    `<a href="${toSafe(input.hrefOf(visit.visit, format))}" aria-label="${toSafe(`${words}, ${day}`)}">${toSafe(words)}</a>`;
  return `<li><p class="day">${toSafe(day)}</p>${found === '' ? '' : `<p>${toSafe(found)}</p>`}<p class="soft">${toSafe(counts)}</p>${link('html', say('page.read'))}${link('pdf', say('page.pdf'))}</li>`;
}
