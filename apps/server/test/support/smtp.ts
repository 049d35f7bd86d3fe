import { SMTPServer } from 'smtp-server';

export interface Received {
  readonly from: string;
  readonly to: readonly string[];
  /** The message as it came over the line. */
  readonly raw: string;
}

export interface TestSmtp {
  readonly port: number;
  readonly received: Received[];
  /** Asked after each message came in whole: an error refuses it, `hang` never answers. */
  answer: (received: Received) => { readonly code: number; readonly text: string } | 'take' | 'hang';
  close(): Promise<void>;
}

/** A real SMTP server (RFC 5321) on this machine that keeps what it is handed. */
export async function startSmtp(): Promise<TestSmtp> {
  const test: TestSmtp = { port: 0, received: [], answer: () => 'take', close: async () => {} };
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS', 'AUTH'],
    logger: false,
    onData(stream, session, callback) {
      const parts: Buffer[] = [];
      stream.on('data', (part: Buffer) => parts.push(part));
      stream.on('end', () => {
        const { mailFrom, rcptTo } = session.envelope;
        const received: Received = {
          from: mailFrom === false || mailFrom === null ? '' : mailFrom.address,
          to: rcptTo.map(({ address }) => address),
          raw: Buffer.concat(parts).toString('utf8'),
        };
        const answer = test.answer(received);
        test.received.push(received);
        if (answer === 'hang') return;
        if (answer === 'take') return callback(null, 'kept');
        callback(Object.assign(new Error(answer.text), { responseCode: answer.code }));
      });
    },
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', () => resolve()));
  const address = server.server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return Object.assign(test, {
    port: address.port,
    close: () => new Promise<void>((resolve) => server.close(() => resolve())),
  });
}

/** Header fields of a message, unfolded, by lower-case name (RFC 5322, 2.2.3). */
export function headersOf(raw: string): ReadonlyMap<string, readonly string[]> {
  const [head = ''] = raw.split('\r\n\r\n');
  const fields = head.replaceAll(/\r\n[ \t]+/g, ' ').split('\r\n');
  const byName = new Map<string, string[]>();
  for (const field of fields) {
    const colon = field.indexOf(':');
    const name = field.slice(0, colon).toLowerCase();
    byName.set(name, [...(byName.get(name) ?? []), field.slice(colon + 1).trim()]);
  }
  return byName;
}

/** The bytes of the first part that is a PDF, by its own base 64 (RFC 2045). */
export function attachmentOf(raw: string): Buffer {
  const part = raw.split(/\r\n--[^\r\n]+\r\n/).find((one) => /^content-type: application\/pdf/im.test(one));
  if (part === undefined) throw new Error('no PDF in the message');
  return Buffer.from((part.split('\r\n\r\n')[1] ?? '').replaceAll(/\s/g, ''), 'base64');
}
