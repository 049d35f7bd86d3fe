/** A server of its own process for tests that end it: database as argument, its address as the only line it writes. */
import { pino } from 'pino';
import { seedAccount, startServer, stopOnSignals } from '../../src/index.ts';
import { FIRM, PASSWORD } from './harness.ts';

const [database] = process.argv.slice(2);
if (database === undefined) throw new Error('usage: servePlans.ts DATABASE');
const server = await startServer({
  port: 0,
  databaseUrl: database,
  webFolder: 'nowhere',
  log: pino({ level: 'silent' }),
  mail: null,
  planThreads: 1,
});
if (!(await server.accounts.hasAnyAccount()))
  await seedAccount(server.accounts, FIRM, {
    id: 'lead-own',
    name: 'Invented lead',
    email: 'lead@example.com',
    role: 'lead',
    branch: null,
    licenceNumber: null,
    certificationNumber: null,
    password: PASSWORD,
  });
stopOnSignals(server);
process.stdout.write(`${server.url}\n`);
