/** A process that queues one message and sends it, to be killed in the middle: `node mailSender.ts <database> <port>`. */
import { openLedger } from '@sillwatch/ledger';
import { pino } from 'pino';
import { createIdMaker } from '../../src/index.ts';
import { openMail } from '../../src/mail/mail.ts';

const [, , databaseUrl = '', port = ''] = process.argv;
const ledger = await openLedger({ url: databaseUrl });
const mail = await openMail({
  databaseUrl,
  settings: {
    host: '127.0.0.1',
    port: Number(port),
    tls: 'off',
    user: undefined,
    password: undefined,
    from: 'office@firm.invalid',
    replyTo: undefined,
  },
  ledger,
  now: Date.now,
  newId: createIdMaker(Date.now),
  log: pino({ level: 'silent' }),
});
await mail.enqueue({
  firm: 'firm-own',
  property: 'house',
  visit: null,
  paper: 'station list',
  recipient: 'ida@customer.invalid',
  subject: 'Stations',
  text: 'Attached.',
  attachment: { name: 'stations.pdf', bytes: new TextEncoder().encode('%PDF-1.7 not a real one') },
  askedBy: 'owner',
  timeZone: 'America/New_York',
});
await mail.work();
await mail.stop();
await ledger.close();
