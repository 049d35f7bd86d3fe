import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import pg from 'pg';

export interface TestDatabase {
  readonly url: string;
  readonly stop: () => Promise<void>;
}

/** An empty PostgreSQL database: on DATABASE_URL_TEST, else on a throw-away server; undefined where none is installed. */
export async function findTestDatabase(): Promise<TestDatabase | undefined> {
  const given = process.env['DATABASE_URL_TEST'];
  if (given !== undefined && given !== '') return { url: await createDatabase(given), stop: async () => {} };
  const script = fileURLToPath(new URL('../../../../tools/pg/start.ts', import.meta.url));
  const child = spawn(process.execPath, [script], { stdio: ['pipe', 'pipe', 'inherit'] });
  const first = await createInterface({ input: child.stdout })[Symbol.asyncIterator]().next();
  if (first.done === true) {
    const why = 'no PostgreSQL is installed here and DATABASE_URL_TEST is not set';
    if (process.env['CI'] === 'true') throw new Error(`${why}; CI must run the PostgreSQL suites`);
    process.stderr.write(`PostgreSQL suites skipped: ${why}\n`);
    return undefined;
  }
  const { url }: { url: string } = JSON.parse(first.value);
  return {
    url: await createDatabase(url),
    stop: async () => {
      const gone = new Promise((resolve) => child.once('exit', resolve));
      child.stdin.end();
      await gone;
    },
  };
}

async function createDatabase(url: string): Promise<string> {
  const name = `sillwatch_test_${randomBytes(6).toString('hex')}`;
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query(`create database ${name}`);
  await client.end();
  const target = new URL(url);
  target.pathname = `/${name}`;
  return target.href;
}
