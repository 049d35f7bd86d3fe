/** The server that `wait.ts` measures, in a process of its own: `waitServer.ts <folder> <applications>`. */
import { join } from 'node:path';
import { seedAccount, startServer, stopOnSignals } from '@sillwatch/server';
import { DEMO_PROFILE } from '@sillwatch/trade';
import { pino } from 'pino';
import { applicationFacts } from './applications.ts';
import { BENCH_ACCOUNT, BENCH_FIRM } from './wait.ts';

const [folder = '', applications = '0'] = process.argv.slice(2);
const server = await startServer({
  port: 0,
  databaseUrl: join(folder, 'ledger.db'),
  webFolder: 'nowhere',
  mail: null,
  log: pino({ level: 'silent' }),
  limits: { requestsPerMinute: 1_000_000, signIns: 1000 },
});
const by = await seedAccount(server.accounts, BENCH_FIRM, BENCH_ACCOUNT);
const facts = applicationFacts(Number(applications), { firm: BENCH_FIRM.id, by });
const [sample] = facts;
if (sample === undefined) throw new Error('no applications to write');
const verdicts = await server.ledger.append(
  BENCH_FIRM.id,
  [
    {
      ...sample,
      id: '00000000-0000-7000-8000-000000000000',
      property: null,
      station: null,
      kind: 'profile set',
      body: DEMO_PROFILE,
    },
    ...facts,
  ],
  '2026-03-04T17:00:00.000Z',
);
const refused = verdicts.find(({ verdict }) => verdict !== 'accepted');
if (refused !== undefined) throw new Error(JSON.stringify(refused));
stopOnSignals(server);
process.stdout.write(`${server.url}\n`);
