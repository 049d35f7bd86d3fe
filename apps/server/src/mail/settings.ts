import { isLoopbackHost } from '../http/security.ts';

/** How messages leave: one SMTP server (RFC 5321) that takes them for delivery. */
export interface MailSettings {
  readonly host: string;
  readonly port: number;
  /** `starttls` insists on encryption (RFC 3207); `implicit` speaks TLS from the first byte (RFC 8314); `off` is for this machine. */
  readonly tls: 'starttls' | 'implicit' | 'off';
  readonly user: string | undefined;
  readonly password: string | undefined;
  /** `Name <address>` or an address alone. */
  readonly from: string;
  readonly replyTo: string | undefined;
}

const TLS = ['starttls', 'implicit', 'off'] as const;

/**
 * Reads MAIL_HOST, MAIL_PORT, MAIL_TLS, MAIL_USER, MAIL_PASSWORD, MAIL_FROM and MAIL_REPLY_TO; undefined when MAIL_HOST is not set.
 * Throws a RangeError that names the setting when one is wrong, so that a server does not start and then lose messages.
 */
export function readMailSettings(
  env: Readonly<Record<string, string | undefined>>,
): MailSettings | undefined {
  const host = said(env['MAIL_HOST']);
  if (host === undefined) return undefined;
  const tls = TLS.find((one) => one === (said(env['MAIL_TLS']) ?? 'starttls'));
  if (tls === undefined) throw new RangeError(`MAIL_TLS is one of ${TLS.join(', ')}`);
  const port = Number(said(env['MAIL_PORT']) ?? (tls === 'implicit' ? 465 : 587));
  if (!Number.isInteger(port) || port < 1 || port > 65_535)
    throw new RangeError('MAIL_PORT is no port number');
  const from = said(env['MAIL_FROM']);
  if (from === undefined || !ADDRESS.test(from))
    throw new RangeError('MAIL_FROM is missing or no address: write Name <office@example.com>');
  const replyTo = said(env['MAIL_REPLY_TO']);
  if (replyTo !== undefined && !ADDRESS.test(replyTo)) throw new RangeError('MAIL_REPLY_TO is no address');
  const user = said(env['MAIL_USER']);
  const password = said(env['MAIL_PASSWORD']);
  if ((user === undefined) !== (password === undefined))
    throw new RangeError('MAIL_USER and MAIL_PASSWORD are set together or not at all');
  if (tls === 'off' && !isLoopbackHost(host))
    throw new RangeError(
      'MAIL_TLS=off would send customers and passwords in the clear; only this machine may take mail so',
    );
  return { host, port, tls, user, password, from, replyTo };
}

/** One mailbox and no control characters, so that a setting cannot add a header of its own. */
const ADDRESS =
  /^(?:[^<>\p{Cc}]+<[^\s<>@,;\p{Cc}]+@[^\s<>@,;\p{Cc}]+>|[^\s<>@,;\p{Cc}]+@[^\s<>@,;\p{Cc}]+)$/u;

function said(text: string | undefined): string | undefined {
  const trimmed = text?.trim() ?? '';
  return trimmed === '' ? undefined : trimmed;
}
