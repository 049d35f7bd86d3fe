/** A server in a process of its own, for tests that stop or kill it: `serve.ts <database> <firm> <person>`. */
import { pino } from 'pino';
import { seedAccount, startServer, stopOnSignals } from '../../src/index.ts';
import { firstFacts } from './facts.ts';
import { FIRM, PASSWORD } from './harness.ts';

const [databaseUrl = '', email = ''] = process.argv.slice(2);
const server = await startServer({
  port: 0,
  databaseUrl,
  webFolder: 'nowhere',
  log: pino({ level: 'silent' }),
  limits: { requestsPerMinute: 1_000_000, signIns: 1000 },
});
const person = await seedAccount(server.accounts, FIRM, {
  id: 'tech-own',
  name: 'Invented technician',
  email,
  role: 'owner',
  branch: null,
  licenceNumber: null,
  certificationNumber: null,
  password: PASSWORD,
});
await server.ledger.append(FIRM.id, firstFacts(FIRM.id, person, 'own-house'), '2026-01-01T00:00:00.000Z');
stopOnSignals(server);
process.stdout.write(`${server.url}\n`);
