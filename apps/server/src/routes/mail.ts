import { createHash } from 'node:crypto';
import { z } from '@hono/zod-openapi';
import {
  MAIL_PAPERS,
  mailWords,
  PAPER_LANGUAGES,
  type PaperLanguage,
  paperLanguageOf,
} from '@sillwatch/paper';
import type { PropertyState } from '@sillwatch/trade';
import { OFFICE } from '../accounts/roles.ts';
import type { AppSettings } from '../app.ts';
import type { Person } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import type { NewMessage } from '../mail/mail.ts';
import { MAIL_STATES, type MailRow } from '../mail/store.ts';
import { drawPdf } from '../papers/drawn.ts';
import { propertyPaper } from '../papers/propertyPaper.ts';
import { createToday, zoneOf } from '../work/days.ts';
import { getProperty } from './properties.ts';
import { list } from './schemas.ts';

const id = z.string().min(1).max(200);

const asked = z.object({
  paper: z.enum(MAIL_PAPERS),
  /** of a visit report */
  visit: id.optional(),
  /** default: the language of the property */
  language: z.enum(PAPER_LANGUAGES).optional(),
  /** default: the customer's own address */
  to: z.email().max(200).optional(),
  /** show what would go, and send nothing */
  preview: z.boolean().default(false),
});

const preview = z.object({
  to: z.string().nullable(),
  subject: z.string(),
  text: z.string(),
  attachment: z.object({ name: z.string(), bytes: z.number().int(), sha256: z.string() }),
  language: z.enum(PAPER_LANGUAGES),
});
const message = z
  .object({
    id: z.string(),
    property: z.string(),
    visit: z.string().nullable(),
    paper: z.string(),
    to: z.string(),
    subject: z.string(),
    text: z.string(),
    attachment: z.string().nullable(),
    state: z.enum(MAIL_STATES),
    attempts: z.number().int(),
    /** when it is tried next; null once it is over */
    nextAt: z.string().nullable(),
    createdAt: z.string(),
    changedAt: z.string(),
    /** the mail server's last words */
    detail: z.string(),
    by: z.string(),
  })
  .openapi('Message');

/** E-mail: a queue that outlives the process, its log, and what would go, seen before it goes. */
export function addMailRoutes(app: App, settings: AppSettings): void {
  const { mail } = settings;

  addRoute(
    app,
    settings,
    {
      method: 'post',
      path: '/api/properties/{id}/mail',
      tag: 'reports',
      summary: 'Send a paper of a property to its customer as a PDF, or show what would be sent',
      roles: OFFICE,
      params: z.object({ id }),
      body: asked,
      result: z.object({ preview, message: message.nullable() }),
      status: 201,
    },
    async ({ person, params, body, context }) => {
      const property = await getProperty(settings, person.firm, params.id);
      const composed = await compose(settings, person, property, body, context.req.raw.signal);
      if (body.preview) return { preview: composed.preview, message: null };
      if (!mail.isSetUp) throw new Problem('mail not set up', 'MAIL_HOST is not set on this server.');
      const { to } = composed.preview;
      if (to === null) throw new Problem('no address', 'The property has no e-mail address of its customer.');
      const row = await mail.enqueue({ ...composed.message, recipient: to });
      return { preview: composed.preview, message: showMessage(row) };
    },
  );

  addRoute(
    app,
    settings,
    {
      method: 'get',
      path: '/api/mail',
      tag: 'reports',
      summary: 'What waits, was sent, refused or cancelled, newest first',
      roles: OFFICE,
      query: z.object({
        property: id.optional(),
        state: z.enum(MAIL_STATES).optional(),
        before: id.optional(),
        limit: z.coerce.number().int().min(1).max(200).default(50),
      }),
      result: z.object({
        /** false = nothing is sent from this server yet */
        isSetUp: z.boolean(),
        messages: list(message),
        /** ask again with this as `before`; null = that was all */
        next: z.string().nullable(),
      }),
    },
    async ({ person, query: { limit, property, state, before } }) => {
      const rows = await mail.store.list(person.firm, {
        limit: limit + 1,
        ...(property === undefined ? {} : { property }),
        ...(state === undefined ? {} : { state }),
        ...(before === undefined ? {} : { before }),
      });
      const page = rows.slice(0, limit);
      return {
        isSetUp: mail.isSetUp,
        messages: page.map(showMessage),
        next: rows.length > limit ? (page.at(-1)?.id ?? null) : null,
      };
    },
  );

  for (const [word, summary, act] of [
    ['retry', 'Try a message that waits or was refused again, now', mail.retry],
    ['cancel', 'Take back a message that waits', mail.cancel],
  ] as const) {
    addRoute(
      app,
      settings,
      {
        method: 'post',
        path: `/api/mail/{id}/${word}`,
        tag: 'reports',
        summary,
        roles: OFFICE,
        params: z.object({ id }),
        result: message,
      },
      async ({ person, params }) => {
        await getMessage(settings, person.firm, params.id);
        if (!(await act(person.firm, params.id)))
          throw new Problem(
            'message has gone',
            `It can no longer be ${word === 'retry' ? 'retried' : 'cancelled'}.`,
          );
        return showMessage(await getMessage(settings, person.firm, params.id));
      },
    );
  }
}

/** What is put together: `body` as the route takes it. */
export async function compose(
  settings: AppSettings,
  person: Person,
  property: PropertyState,
  body: Pick<z.output<typeof asked>, 'paper' | 'visit' | 'language' | 'to'>,
  signal: AbortSignal,
): Promise<{
  readonly preview: z.input<typeof preview>;
  readonly message: Omit<NewMessage, 'recipient'>;
}> {
  const firm = await settings.ledger.getFirm(person.firm);
  const lang: PaperLanguage = body.language ?? paperLanguageOf(property.body?.language);
  const timeZone = zoneOf(property, firm);
  const asOf = createToday(settings.deps.now()).inZone(timeZone);
  const visit = body.visit ?? null;
  const paper = await propertyPaper(settings, person, property, body.paper, { visit, asOf, lang });
  const bytes = await drawPdf(settings, { firm: person.firm, signal }, paper.document);
  const words = mailWords({ paper: body.paper, firmName: person.firmName, property, day: paper.day, lang });
  const name = `${paper.name.replaceAll(/[^\w.-]+/g, '-')}.pdf`;
  const to = body.to ?? property.body?.customer.email ?? null;
  return {
    preview: {
      to: to === '' ? null : to,
      ...words,
      attachment: {
        name,
        bytes: bytes.byteLength,
        sha256: createHash('sha256').update(bytes).digest('hex'),
      },
      language: lang,
    },
    message: {
      firm: person.firm,
      property: property.property,
      visit: body.paper === 'visit report' ? visit : null,
      paper: body.paper,
      ...words,
      attachment: { name, bytes },
      askedBy: person.id,
      timeZone,
    },
  };
}

async function getMessage({ mail }: AppSettings, firm: string, messageId: string): Promise<MailRow> {
  const row = await mail.store.find(firm, messageId);
  if (row === undefined) throw new Problem('not found', 'The firm has no such message.');
  return row;
}

function showMessage(row: MailRow): z.input<typeof message> {
  return {
    id: row.id,
    property: row.property,
    visit: row.visit,
    paper: row.paper,
    to: row.recipient,
    subject: row.subject,
    text: row.text,
    attachment: row.attachmentName,
    state: row.state,
    attempts: row.attempts,
    nextAt: row.state === 'queued' || row.state === 'sending' ? row.nextAt : null,
    createdAt: row.createdAt,
    changedAt: row.changedAt,
    detail: row.detail,
    by: row.askedBy,
  };
}
