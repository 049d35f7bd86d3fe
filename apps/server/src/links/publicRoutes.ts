import { listEveryFact } from '@sillwatch/ledger';
import {
  customerPage,
  feedToText,
  nextVisits,
  paperLanguageOf,
  propertyFeed,
  renderHtml,
  roundFeed,
  visitReport,
} from '@sillwatch/paper';
import { type Day, dueWork, findMoment, type PropertyState } from '@sillwatch/trade';
import type { Context } from 'hono';
import type { AppSettings } from '../app.ts';
import type { Env } from '../http/context.ts';
import { createRateLimiter } from '../http/limits.ts';
import { peerOf } from '../http/peer.ts';
import type { App } from '../http/route.ts';
import { checkHost } from '../http/security.ts';
import { drawPdf } from '../papers/drawn.ts';
import { paperBasics } from '../routes/reports.ts';
import { createToday, zoneOf } from '../work/days.ts';
import { profileOf } from '../work/firm.ts';
import type { RoundShelf } from '../work/rounds.ts';
import { findLink, type OpenLink } from './findLink.ts';
import { createGuessGuard } from './guesses.ts';
import { goneAnswer, linkAnswer, PAGE_POLICY, REPORT_POLICY, tooManyAnswer } from './pageAnswer.ts';

/** Wrong addresses, and requests of any kind, that one address of the network may send in a minute. */
const MOST_WRONG = 10;
const MOST_REQUESTS = 120;

const HTML = 'text/html; charset=utf-8';

/** What is open to whoever holds a secret address, and to nobody else. Outside the API: no sign-in, no cookie is looked at. */
export function addPublicLinkRoutes(app: App, settings: AppSettings, rounds: RoundShelf): void {
  const { deps } = settings;
  const guard = createGuessGuard(MOST_WRONG, deps.now);
  const limiter = createRateLimiter(MOST_REQUESTS, 60_000, deps.now);

  const open = async (
    context: Context<Env>,
    answer: (link: OpenLink, secret: string) => Promise<Response | undefined>,
  ): Promise<Response> => {
    checkHost(context.req.header('host'), settings.isLoopback);
    const peer = peerOf(context);
    const wait = guard.waitOf(peer) ?? limiter.take(peer);
    if (wait !== undefined) return tooManyAnswer(wait);
    const { place = '', secret = '' } = context.req.param();
    const link = await findLink(settings, place, secret, deps.now());
    const given = link === undefined ? undefined : await answer(link, secret);
    if (given !== undefined && link !== undefined) {
      // The holder need not wait for it, nor hear that it failed.
      void settings.linkUses
        .note(link.firm, link.link.link, deps.now())
        .catch((error) =>
          deps.log.warn({ error: String(error) }, 'the use of a secret address was not kept'),
        );
      return given;
    }
    guard.noteWrong(peer);
    return goneAnswer(paperLanguageOf(context.req.header('accept-language')));
  };

  app.get('/link/:place/:secret', (context) =>
    open(context, (link, secret) => showPage(settings, rounds, link, secret)),
  );
  app.get('/link/:place/:secret/calendar.ics', (context) =>
    open(context, (link) => showCalendar(settings, rounds, link)),
  );
  app.get('/link/:place/:secret/visits/:visit/:file', (context) => {
    const { visit = '', file = '' } = context.req.param();
    return open(context, (link) => showReport(settings, link, visit, file, context.req.raw.signal));
  });
  app.all('/link/*', (context) => open(context, async () => undefined));
}

async function whenOf({ ledger, deps }: AppSettings, link: OpenLink & { readonly kind: 'property' }) {
  const firm = await ledger.getFirm(link.firm);
  const asOf: Day = createToday(deps.now()).inZone(zoneOf(link.property, firm));
  const profile = profileOf(link.property, firm);
  const due =
    profile === undefined
      ? { items: [], held: [], clearStructures: [] }
      : dueWork(link.property.stations, profile, asOf);
  return { firm, asOf, profile, due, lang: paperLanguageOf(link.property.body?.language) };
}

async function showPage(
  settings: AppSettings,
  rounds: RoundShelf,
  link: OpenLink,
  secret: string,
): Promise<Response | undefined> {
  if (link.kind !== 'property' || link.link.purpose !== 'property page') return undefined;
  const { asOf, due, profile, lang } = await whenOf(settings, link);
  const { property } = link;
  const until = findMoment(link.link.expiresAt ?? '')?.day ?? null;
  const html = customerPage({
    firm: { name: link.firmName, lines: [] },
    property,
    facts: await listEveryFact(settings.ledger, link.firm, { property: property.property }),
    next: nextVisits({ property, rounds: await rounds.list(link.firm), due, asOf }),
    until,
    invented: profile?.invented ?? false,
    // Relative to `/link/<place>/<secret>`, whose last part a browser replaces.
    hrefOf: (visit, format) => `${secret}/visits/${encodeURIComponent(visit)}/report.${format}`,
    lang,
  });
  return linkAnswer(html, { 'content-type': HTML, 'content-security-policy': PAGE_POLICY });
}

async function showReport(
  settings: AppSettings,
  link: OpenLink,
  visit: string,
  file: string,
  signal: AbortSignal,
): Promise<Response | undefined> {
  if (link.kind !== 'property' || link.link.purpose !== 'property page') return undefined;
  if (file !== 'report.html' && file !== 'report.pdf') return undefined;
  if (!link.property.visits.some((one) => one.visit === visit)) return undefined;
  const { firm, asOf, lang } = await whenOf(settings, link);
  const document = visitReport({
    ...paperBasics(link, link.property, firm, asOf, settings.deps.now()),
    facts: await listEveryFact(settings.ledger, link.firm, { property: link.property.property }),
    visit,
    lang,
  });
  return file === 'report.pdf'
    ? linkAnswer(Uint8Array.from(await drawPdf(settings, { firm: link.firm, signal }, document)), {
        'content-type': 'application/pdf',
        'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
        'content-disposition': 'inline; filename="visit-report.pdf"',
      })
    : linkAnswer(renderHtml(document), { 'content-type': HTML, 'content-security-policy': REPORT_POLICY });
}

async function showCalendar(
  settings: AppSettings,
  rounds: RoundShelf,
  link: OpenLink,
): Promise<Response | undefined> {
  const stampMs = settings.deps.now();
  const own = await rounds.list(link.firm);
  if (link.kind === 'rounds') {
    const mine = own.filter(({ person }) => person === link.person.id);
    const properties = new Map<string, PropertyState>();
    for (const id of new Set(mine.flatMap(({ visits }) => visits.map(({ property }) => property)))) {
      const state = await settings.ledger.findProperty(link.firm, id);
      if (state !== undefined) properties.set(id, state);
    }
    return calendarAnswer(
      feedToText(roundFeed({ personName: link.person.name, rounds: mine, properties, stampMs })),
    );
  }
  if (link.link.purpose !== 'property calendar') return undefined;
  const { firm, asOf, due, lang } = await whenOf(settings, link);
  const { property } = link;
  const feed = propertyFeed({
    property,
    rounds: own,
    due,
    asOf,
    stampMs,
    timeZone: zoneOf(property, firm),
    lang,
  });
  return calendarAnswer(feedToText(feed));
}

function calendarAnswer(text: string): Response {
  return linkAnswer(text, {
    'content-type': 'text/calendar; charset=utf-8',
    'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
    'content-disposition': 'inline; filename="sillwatch.ics"',
  });
}
