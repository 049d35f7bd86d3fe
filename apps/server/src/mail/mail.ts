import { createHash } from 'node:crypto';
import { setTimeout } from 'node:timers/promises';
import type { Ledger } from '@sillwatch/ledger';
import { type AnyFact, clockToText, type PaperSentBody } from '@sillwatch/trade';
import type { Logger } from 'pino';
import { momentIn } from '../links/factWriter.ts';
import type { MailSettings } from './settings.ts';
import { type MailRow, type MailStore, openMailStore } from './store.ts';
import { type Delivery, openTransport, type Transport } from './transport.ts';

export interface MailOptions {
  readonly databaseUrl: string;
  /** undefined = nothing can be queued; what waits goes on waiting */
  readonly settings: MailSettings | undefined;
  readonly ledger: Pick<Ledger, 'append'>;
  readonly now: () => number;
  readonly newId: () => string;
  readonly log: Logger;
  readonly pace?: Partial<MailPace>;
}

export interface MailPace {
  /** between looks at the queue */
  readonly pollMs: number;
  /** how long one try may take before another server takes the message over */
  readonly leaseMs: number;
  /** waiting after the first failure, the second, ...; after the last the message counts as refused */
  readonly waitsMs: readonly number[];
}

const MINUTE = 60_000;
/** A refused message keeps its attachment for so long, to be retried; looked at when the server starts. */
const KEPT_DAYS = 60;
/** About two and a half days in all, within the four to five days that RFC 5321 (4.5.4.1) gives a mail server itself. */
export const USUAL_PACE: MailPace = {
  pollMs: 15_000,
  leaseMs: 15 * MINUTE,
  waitsMs: [1, 5, 15, 60, 240, 720, 1440, 1440].map((minutes) => minutes * MINUTE),
};

export interface NewMessage {
  readonly firm: string;
  readonly property: string;
  readonly visit: string | null;
  readonly paper: string;
  readonly recipient: string;
  readonly subject: string;
  readonly text: string;
  readonly attachment: { readonly name: string; readonly bytes: Uint8Array } | null;
  readonly askedBy: string;
  readonly timeZone: string;
}

export interface Mail {
  readonly isSetUp: boolean;
  readonly store: MailStore;
  /** Puts a message into the queue; it is on stable storage when this resolves. */
  enqueue(message: NewMessage): Promise<MailRow>;
  /** Tries a message that waits or was refused again, now. False = it is in no such state. */
  retry(firm: string, id: string): Promise<boolean>;
  /** Takes back a message that waits. False = it does not. */
  cancel(firm: string, id: string): Promise<boolean>;
  /** Sends what is due and records outcomes; resolves when nothing is due. For tests and for a first look at start. */
  work(): Promise<void>;
  stop(): Promise<void>;
}

/** Opens the queue and, where mail is set up, begins to work it off. */
export async function openMail(options: MailOptions): Promise<Mail> {
  const { now, newId, log, settings } = options;
  const pace: MailPace = { ...USUAL_PACE, ...options.pace };
  const store = await openMailStore(options.databaseUrl);
  const transport = settings === undefined ? undefined : openTransport(settings);
  const textAt = (ms: number) => new Date(ms).toISOString();
  await store.dropRefusedBefore(textAt(now() - KEPT_DAYS * 1440 * MINUTE));

  let stopping = false;
  let working: Promise<void> = Promise.resolve();
  const work = (): Promise<void> => {
    working = working
      .then(async () => {
        await recordOutcomes(store, options);
        if (transport === undefined) return;
        while (!stopping) {
          const row = await store.claim(textAt(now()), textAt(now() + pace.leaseMs));
          if (row === undefined) return;
          await tryOne(store, transport, row, pace, options);
          await recordOutcomes(store, options);
        }
      })
      .catch((error: unknown) => log.error({ error: String(error) }, 'the mail queue could not be worked'));
    return working;
  };
  const timer = setInterval(() => void work(), pace.pollMs);
  timer.unref();
  void work();

  return {
    isSetUp: settings !== undefined,
    store,
    async enqueue(message) {
      const bytes = message.attachment?.bytes;
      const at = textAt(now());
      const row: MailRow = {
        firm: message.firm,
        id: newId(),
        property: message.property,
        visit: message.visit,
        paper: message.paper,
        recipient: message.recipient,
        subject: message.subject,
        text: message.text,
        attachmentName: message.attachment?.name ?? null,
        attachmentHash: bytes === undefined ? null : createHash('sha256').update(bytes).digest('hex'),
        attachment: bytes === undefined ? null : Buffer.from(bytes).toString('base64'),
        askedBy: message.askedBy,
        timeZone: message.timeZone,
        state: 'queued',
        attempts: 0,
        nextAt: at,
        leaseUntil: null,
        createdAt: at,
        changedAt: at,
        detail: '',
        factId: newId(),
        isRecorded: 0,
      };
      await store.add(row);
      void work();
      return row;
    },
    async retry(firm, id) {
      const row = await store.find(firm, id);
      // Without its attachment it would be another message.
      if (row === undefined || (row.attachmentName !== null && row.attachment === null)) return false;
      const at = textAt(now());
      const again = { state: 'queued', nextAt: at, changedAt: at, leaseUntil: null } as const;
      const done =
        (await store.change(firm, id, 'queued', again)) ||
        // A second outcome is a second fact; the attachment was kept for this.
        (await store.change(firm, id, 'refused', { ...again, attempts: 0, factId: newId(), isRecorded: 0 }));
      if (done) void work();
      return done;
    },
    cancel: (firm, id) =>
      store.change(firm, id, 'queued', {
        state: 'cancelled',
        changedAt: textAt(now()),
        attachment: null,
        isRecorded: 1,
      }),
    work,
    async stop() {
      stopping = true;
      clearInterval(timer);
      // A mail server that hangs does not hold up the stop: what was being tried is tried again when its lease is over.
      await Promise.race([working, setTimeout(LONGEST_STOP_MS, undefined, { ref: false })]);
      transport?.close();
      await store.close();
    },
  };
}

async function tryOne(
  store: MailStore,
  transport: Transport,
  row: MailRow,
  pace: MailPace,
  { now, log, settings }: MailOptions,
): Promise<void> {
  const delivery = await transport.deliver({
    messageId: messageIdOf(row, settings),
    to: row.recipient,
    subject: row.subject,
    text: row.text,
    date: new Date(row.createdAt),
    attachment:
      row.attachment === null || row.attachmentName === null
        ? null
        : { name: row.attachmentName, bytes: Buffer.from(row.attachment, 'base64') },
  });
  const next = nextState(row, delivery, pace, now());
  const isKept = await store.change(row.firm, row.id, 'sending', {
    ...next,
    leaseUntil: null,
    changedAt: new Date(now()).toISOString(),
  });
  log.info({ mail: row.id, firm: row.firm, attempt: row.attempts, state: next.state, isKept }, 'mail tried');
}

function nextState(
  row: MailRow,
  delivery: Delivery,
  pace: MailPace,
  nowMs: number,
): Pick<MailRow, 'state' | 'detail'> & Partial<MailRow> {
  const { outcome, detail } = delivery;
  if (outcome === 'sent') return { state: 'sent', detail, attachment: null };
  const wait = pace.waitsMs[row.attempts - 1];
  if (outcome === 'refused') return { state: 'refused', detail };
  if (wait === undefined)
    return { state: 'refused', detail: `given up after ${row.attempts} tries: ${detail}` };
  return { state: 'queued', detail, nextAt: new Date(nowMs + wait).toISOString() };
}

/** The domain of the sender, so that the id is ours to give. */
function messageIdOf(row: MailRow, settings: MailSettings | undefined): string {
  const domain = /@([^\s<>@]+)>?$/.exec(settings?.from ?? '')?.[1] ?? 'localhost';
  return `<${row.id}@${domain}>`;
}

const LONGEST_STOP_MS = 8_000;
const RECORDS_AT_ONCE = 50;

/** Writes `paper sent` for each message that is over. The fact is made of the row alone: told twice it is the same fact. */
async function recordOutcomes(store: MailStore, { ledger, log, now }: MailOptions): Promise<void> {
  for (const row of await store.listUnrecorded(RECORDS_AT_ONCE)) {
    const [verdict] = await ledger.append(row.firm, [outcomeFact(row)], new Date(now()).toISOString());
    if (verdict?.verdict === 'refused')
      log.error({ mail: row.id, why: verdict.detail }, 'the outcome of a message could not be recorded');
    await store.setRecorded(row.firm, row.id, row.factId);
  }
}

function outcomeFact(row: MailRow): AnyFact {
  const ms = Date.parse(row.changedAt);
  const body: PaperSentBody = {
    paper: row.paper,
    visit: row.visit,
    to: row.recipient,
    contentHash: row.attachmentHash,
    outcome: row.state === 'sent' ? 'sent' : 'refused',
    detail: row.detail,
  };
  return {
    id: row.factId,
    firm: row.firm,
    property: row.property,
    station: null,
    by: row.askedBy,
    device: 'mail',
    // Of no device: like an imported entry it is known by its id.
    seq: 0,
    at: momentIn(ms, row.timeZone),
    clock: clockToText({ ms, count: 0 }),
    kind: 'paper sent',
    body,
  };
}
