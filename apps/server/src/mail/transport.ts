import { createTransport } from 'nodemailer';
import type { MailSettings } from './settings.ts';

export interface Message {
  /** The same at each try, so that a mailbox that gets it twice can tell (RFC 5322, 3.6.4). */
  readonly messageId: string;
  readonly to: string;
  readonly subject: string;
  readonly text: string;
  readonly date: Date;
  readonly attachment: { readonly name: string; readonly bytes: Uint8Array } | null;
}

/**
 * What became of one try. `later`: the network, the server or its settings failed for now (no answer, 4yz of RFC 5321, a refused
 * sign-in). `refused`: the server will not take this message (5yz).
 */
export interface Delivery {
  readonly outcome: 'sent' | 'later' | 'refused';
  /** In the server's own words, one line. */
  readonly detail: string;
}

export interface Transport {
  deliver(message: Message): Promise<Delivery>;
  close(): void;
}

const CONNECT_MS = 20_000;
const SILENCE_MS = 60_000;

/** Speaks SMTP; opens no file and fetches nothing, whatever a message says. */
export function openTransport(settings: MailSettings): Transport {
  const transport = createTransport({
    host: settings.host,
    port: settings.port,
    secure: settings.tls === 'implicit',
    requireTLS: settings.tls === 'starttls',
    ignoreTLS: settings.tls === 'off',
    ...(settings.user === undefined || settings.password === undefined
      ? {}
      : { auth: { user: settings.user, pass: settings.password } }),
    connectionTimeout: CONNECT_MS,
    greetingTimeout: CONNECT_MS,
    socketTimeout: SILENCE_MS,
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  return {
    async deliver(message) {
      try {
        const info = await transport.sendMail({
          from: settings.from,
          ...(settings.replyTo === undefined ? {} : { replyTo: settings.replyTo }),
          // As an object: the text is one address and is never parsed as a list.
          to: { name: '', address: message.to },
          subject: message.subject,
          text: message.text,
          date: message.date,
          messageId: message.messageId,
          attachments:
            message.attachment === null
              ? []
              : [
                  {
                    filename: message.attachment.name,
                    content: Buffer.from(message.attachment.bytes),
                    contentType: 'application/pdf',
                  },
                ],
        });
        return { outcome: 'sent', detail: oneLine(info.response) };
      } catch (error) {
        return judge(error);
      }
    },
    close: () => transport.close(),
  };
}

/** RFC 5321, 4.2.1: 5yz is final. A refused sign-in (RFC 4954) is a matter of our settings and says nothing of the message. */
function judge(error: unknown): Delivery {
  const detail = oneLine(error instanceof Error ? error.message : String(error));
  const { code, responseCode } = fieldsOf(error);
  const isFinal = typeof responseCode === 'number' && responseCode >= 500 && code !== 'EAUTH';
  return { outcome: isFinal ? 'refused' : 'later', detail };
}

function fieldsOf(error: unknown): { readonly code?: unknown; readonly responseCode?: unknown } {
  return typeof error === 'object' && error !== null ? error : {};
}

const LONGEST_DETAIL = 500;

function oneLine(text: unknown): string {
  return String(text)
    .replace(/[\p{Cc}]+/gu, ' ')
    .trim()
    .slice(0, LONGEST_DETAIL);
}
