/**
 * Runs a throw-away PostgreSQL until its standard input closes, so that it never outlives the test that started it.
 * Writes one JSON line when ready: {"url":"postgres://..."}; then obeys the words `crash`, `restart` and `stop`, one a line,
 * and answers each with {"done":"..."}.  At a terminal: `node tools/pg/start.ts`, Ctrl-D to end.
 * Ends with 3 when no PostgreSQL is installed.
 */
import { createInterface } from 'node:readline';
import { findPostgresPrograms, startThrowAwayPostgres } from './postgres.ts';

if (findPostgresPrograms() === undefined) {
  process.stderr.write('No PostgreSQL server is installed. Debian: apt install postgresql\n');
  process.exit(3);
}

const postgres = await startThrowAwayPostgres();
const say = (answer: object) => process.stdout.write(`${JSON.stringify(answer)}\n`);
say({ url: postgres.url });

process.on('SIGTERM', () => process.stdin.destroy());
process.on('SIGINT', () => process.stdin.destroy());
process.stdin.on('error', () => {});

try {
  for await (const word of createInterface({ input: process.stdin })) {
    if (word === 'stop') break;
    if (word === 'crash') await postgres.crash();
    else if (word === 'restart') await postgres.restart();
    else if (word !== '') {
      say({ unknown: word });
      continue;
    }
    say({ done: word });
  }
} finally {
  await postgres.stop();
}
say({ done: 'stop' });
process.exit(0);
