import { z } from '@hono/zod-openapi';
import { findMoment, type LinkBody } from '@sillwatch/trade';
import { OFFICE, RECORDERS } from '../accounts/roles.ts';
import type { AppSettings } from '../app.ts';
import type { Person, Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { createFactWriter, momentIn } from '../links/factWriter.ts';
import { hasExpired } from '../links/findLink.ts';
import { addPublicLinkRoutes } from '../links/publicRoutes.ts';
import { hashSecret, type LinkPlace, makeSecret, placeToText } from '../links/secret.ts';
import { zoneOf } from '../work/days.ts';
import type { RoundShelf } from '../work/rounds.ts';
import { getProperty } from './properties.ts';
import { list } from './schemas.ts';

const MOST_DAYS = 1100;
const DAY_MS = 86_400_000;

const shownLink = z
  .object({
    link: z.string(),
    purpose: z.enum(['property page', 'property calendar', 'round calendar']),
    person: z.string().nullable(),
    expiresAt: z.string().nullable(),
    hasExpired: z.boolean(),
    /** when it was opened last, to some minutes; null = never, as far as is known */
    usedAt: z.string().openapi({ format: 'date-time' }).nullable(),
  })
  .openapi('Link');
const madeLink = shownLink
  .extend({ url: z.string().openapi({ description: 'the secret address: shown once, kept nowhere' }) })
  .openapi('MadeLink');
const id = z.string().min(1).max(200);
/** Whole days from now; null = until it is withdrawn. */
const forDays = z.number().int().min(1).max(MOST_DAYS).nullable();

/** Secret addresses for customers and calendars. The ledger keeps the SHA-256 of each secret, so a copy of it opens nothing. */
export function addLinkRoutes(app: App, settings: AppSettings, rounds: RoundShelf): void {
  addPropertyLinkRoutes(app, settings);
  addRoundCalendarRoutes(app, settings);
  addPublicLinkRoutes(app, settings, rounds);
}

function addPropertyLinkRoutes(app: App, settings: AppSettings): void {
  const { ledger, deps, linkUses } = settings;
  const writer = createFactWriter(settings);

  addRoute(
    app,
    settings,
    {
      method: 'post',
      path: '/api/properties/{id}/links',
      tag: 'records',
      summary: 'A secret address of one property for its customer: a page with the reports, or a calendar',
      roles: OFFICE,
      params: z.object({ id }),
      body: z.object({
        purpose: z.enum(['property page', 'property calendar']),
        forDays: forDays.default(90),
      }),
      result: madeLink,
      status: 201,
    },
    async ({ person, params, body, context }) => {
      const property = await getProperty(settings, person.firm, params.id);
      checkRoom(property.links, 50);
      const timeZone = zoneOf(property, await ledger.getFirm(person.firm));
      const { secret, link } = makeLink(settings, timeZone, body.purpose, null, body.forDays);
      await writer.write(person, { property: params.id, timeZone }, 'link made', link);
      const url = urlOf(settings, context.req.url, { firm: person.firm, property: params.id }, secret, link);
      return { ...showLink(link, deps.now(), NEVER), url };
    },
  );

  addRoute(
    app,
    settings,
    {
      method: 'get',
      path: '/api/properties/{id}/links',
      tag: 'records',
      summary: 'Secret addresses of a property that were not withdrawn, without their secrets',
      roles: OFFICE,
      params: z.object({ id }),
      result: z.object({ links: list(shownLink) }),
    },
    async ({ person, params }) => {
      const property = await getProperty(settings, person.firm, params.id);
      const uses = await linkUses.list(person.firm);
      return { links: property.links.map((link) => showLink(link, deps.now(), uses)) };
    },
  );

  addRoute(
    app,
    settings,
    {
      method: 'delete',
      path: '/api/properties/{id}/links/{link}',
      tag: 'records',
      summary: 'Withdraw a secret address: from now on it opens nothing',
      roles: OFFICE,
      params: z.object({ id, link: id }),
    },
    async ({ person, params, context }) => {
      const property = await getProperty(settings, person.firm, params.id);
      getLink(property.links, params.link);
      const timeZone = zoneOf(property, await ledger.getFirm(person.firm));
      await writer.write(person, { property: params.id, timeZone }, 'link withdrawn', { link: params.link });
      return context.body(null, 204);
    },
  );
}

function addRoundCalendarRoutes(app: App, settings: AppSettings): void {
  const { ledger, accounts, deps, linkUses } = settings;
  const writer = createFactWriter(settings);

  addRoute(
    app,
    settings,
    {
      method: 'post',
      path: '/api/links',
      tag: 'records',
      summary: "A secret address of one technician's rounds, for a calendar to subscribe to",
      roles: RECORDERS,
      body: z.object({
        /** account id; default = oneself. A technician subscribes to his own rounds only. */
        person: id.optional(),
        forDays: forDays.default(400),
      }),
      result: madeLink,
      status: 201,
    },
    async ({ person, body, context }) => {
      const target = await accounts.findPerson(body.person ?? person.id);
      if (target === undefined || target.firm !== person.firm)
        throw new Problem('not found', 'The firm has no such person.');
      checkOwn(person, target.id);
      const firm = await ledger.getFirm(person.firm);
      checkRoom(firm.links, 1000);
      const timeZone = firm.branches[target.branch ?? '']?.timeZone ?? 'UTC';
      const { secret, link } = makeLink(settings, timeZone, 'round calendar', target.id, body.forDays);
      await writer.write(person, { property: null, timeZone }, 'link made', link);
      const url = urlOf(settings, context.req.url, { firm: person.firm, property: null }, secret, link);
      return { ...showLink(link, deps.now(), NEVER), url };
    },
  );

  addRoute(
    app,
    settings,
    {
      method: 'get',
      path: '/api/links',
      tag: 'records',
      summary: 'Calendar addresses that were not withdrawn; of a technician, his own',
      roles: RECORDERS,
      result: z.object({ links: list(shownLink) }),
    },
    async ({ person }) => {
      const { links } = await ledger.getFirm(person.firm);
      const mine = OFFICE.includes(person.role) ? links : links.filter((link) => link.person === person.id);
      const uses = await linkUses.list(person.firm);
      return { links: mine.map((link) => showLink(link, deps.now(), uses)) };
    },
  );

  addRoute(
    app,
    settings,
    {
      method: 'delete',
      path: '/api/links/{link}',
      tag: 'records',
      summary: 'Withdraw a calendar address: from now on it opens nothing',
      roles: RECORDERS,
      params: z.object({ link: id }),
    },
    async ({ person, params, context }) => {
      const { links } = await ledger.getFirm(person.firm);
      const link = getLink(links, params.link);
      checkOwn(person, link.person);
      await writer.write(person, { property: null, timeZone: 'UTC' }, 'link withdrawn', { link: link.link });
      return context.body(null, 204);
    },
  );
}

function makeLink(
  { deps }: Pick<Services, 'deps'>,
  timeZone: string,
  purpose: LinkBody['purpose'],
  person: string | null,
  days: number | null,
): { readonly secret: string; readonly link: LinkBody } {
  const secret = makeSecret();
  const expiresAt = days === null ? null : momentIn(deps.now() + days * DAY_MS, timeZone);
  return { secret, link: { link: deps.newId(), secretHash: hashSecret(secret), purpose, person, expiresAt } };
}

function urlOf(
  { publicOrigin }: AppSettings,
  requestUrl: string,
  place: LinkPlace,
  secret: string,
  { purpose }: LinkBody,
): string {
  const origin = publicOrigin ?? new URL(requestUrl).origin;
  const file = purpose === 'property page' ? '' : '/calendar.ics';
  return `${origin}/link/${placeToText(place)}/${secret}${file}`;
}

const NEVER: ReadonlyMap<string, string> = new Map();

function showLink(
  link: LinkBody,
  nowMs: number,
  uses: ReadonlyMap<string, string>,
): z.input<typeof shownLink> {
  const expiresAt = findMoment(link.expiresAt ?? '') === undefined ? null : link.expiresAt;
  return {
    link: link.link,
    purpose: link.purpose,
    person: link.person,
    expiresAt,
    hasExpired: hasExpired(link, nowMs),
    usedAt: uses.get(link.link) ?? null,
  };
}

function getLink(links: readonly LinkBody[], id: string): LinkBody {
  const link = links.find((one) => one.link === id);
  if (link === undefined) throw new Problem('not found', 'There is no such address, or it was withdrawn.');
  return link;
}

/** Every opening of an address compares with all of its place. */
function checkRoom(links: readonly LinkBody[], most: number): void {
  if (links.length >= most) throw new Problem('too many links', `There are ${links.length} already.`);
}

function checkOwn(person: Person, of: string | null): void {
  if (OFFICE.includes(person.role) || of === person.id) return;
  throw new Problem('not allowed', 'A technician sees to the calendar of his own rounds only.');
}
