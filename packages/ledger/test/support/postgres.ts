import { type ChildProcess, spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { Client } from 'pg';

/** PostgreSQL for a test file: DATABASE_URL_TEST when given, else a throw-away one. */
export interface TestPostgres {
  /** A new, empty database; its URL. */
  readonly createDatabase: () => Promise<string>;
  /** Absent when the server is not ours to crash. */
  readonly crashAndRestart: (() => Promise<void>) | undefined;
  readonly stop: () => Promise<void>;
}

/** How tools/pg/start.ts ends when there is no server program. */
const NONE_INSTALLED = 3;

/** Undefined, with a message, when none is installed; in CI (CI=true) that is an error instead. */
export async function findTestPostgres(): Promise<TestPostgres | undefined> {
  const given = process.env['DATABASE_URL_TEST'];
  if (given !== undefined && given !== '')
    return { createDatabase: () => createDatabase(given), crashAndRestart: undefined, stop: async () => {} };
  const script = fileURLToPath(new URL('../../../../tools/pg/start.ts', import.meta.url));
  const child = spawn(process.execPath, [script], { stdio: ['pipe', 'pipe', 'inherit'] });
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const first = await lines.next();
  if (first.done === true) {
    const code = child.exitCode ?? (await new Promise((resolve) => child.once('exit', resolve)));
    if (code !== NONE_INSTALLED)
      throw new Error(`the throw-away PostgreSQL did not start; it ended with ${code}`);
    const why = 'no PostgreSQL is installed here and DATABASE_URL_TEST is not set';
    if (process.env['CI'] === 'true') throw new Error(`${why}; CI must run the PostgreSQL suites`);
    process.stderr.write(`PostgreSQL suites skipped: ${why}\n`);
    return undefined;
  }
  const { url }: { url: string } = JSON.parse(first.value);
  const tell = async (word: string) => {
    child.stdin.write(`${word}\n`);
    await lines.next();
  };
  return {
    createDatabase: () => createDatabase(url),
    crashAndRestart: async () => {
      await tell('crash');
      await tell('restart');
    },
    stop: () => endChild(child),
  };
}

async function endChild(child: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.stdin?.end();
  await gone;
}

async function createDatabase(url: string): Promise<string> {
  const name = `sillwatch_test_${randomBytes(6).toString('hex')}`;
  const client = new Client({ connectionString: url });
  await client.connect();
  await client.query(`create database ${name}`);
  await client.end();
  const target = new URL(url);
  target.pathname = `/${name}`;
  return target.href;
}
