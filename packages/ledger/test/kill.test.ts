import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { findTestPostgres } from './support/postgres.ts';
import { createRandom } from './support/random.ts';
import { dump, makeFolder, open } from './support/targets.ts';

const folder = makeFolder();
const postgres = await findTestPostgres();
afterAll(async () => {
  await postgres?.stop();
  folder.remove();
});

const APPENDER = fileURLToPath(new URL('support/appender.ts', import.meta.url));
/** SILLWATCH_KILL_SEED repeats a run that failed; SILLWATCH_KILLS makes it longer. */
const SEED = Number(process.env['SILLWATCH_KILL_SEED'] ?? 20260302);
const KILLS = Number(process.env['SILLWATCH_KILLS'] ?? 24);

/** Runs appenders and kills them, `kills` times; `strike` may take the server down as well. Returns what was acknowledged. */
async function killRepeatedly(
  url: string,
  kills: number,
  seed: number,
  strike: (child: ChildProcess) => Promise<void>,
): Promise<number> {
  const acknowledged = new Set<string>();
  const random = createRandom(seed);
  for (let run = 1; run <= kills; run += 1) {
    const delay = random.below(250);
    await killOnce(url, seed + run, run, delay, strike, acknowledged);
    await checkNothingLost(
      url,
      acknowledged,
      `seed ${seed}, run ${run}, killed ${delay} ms after the first answer`,
    );
  }
  return acknowledged.size;
}

async function killOnce(
  url: string,
  seed: number,
  run: number,
  delayMilliseconds: number,
  strike: (child: ChildProcess) => Promise<void>,
  acknowledged: Set<string>,
): Promise<void> {
  const child = spawn(process.execPath, [APPENDER, url, `${seed}`, `${run}`], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  let errors = '';
  child.stderr.on('data', (chunk: Buffer) => {
    errors += chunk.toString();
  });
  const ended = new Promise((resolve) => child.once('close', resolve));
  const answered = new Promise((resolve) => child.stdout.once('data', resolve));
  child.stdout.on('data', (chunk: Buffer) => {
    output += chunk.toString();
  });
  await Promise.race([answered, ended]);
  if (output === '') throw new Error(`the appender ended before its first answer:\n${errors}`);
  await setTimeout(delayMilliseconds);
  await strike(child);
  await ended;
  // The last line may have been cut by the kill: its fact may or may not have been said.
  const lines = output.split('\n').slice(0, -1);
  for (const line of lines) {
    expect(line).toMatch(/^accepted [0-9a-f-]{36}$/);
    acknowledged.add(line.slice('accepted '.length));
  }
}

async function checkNothingLost(
  url: string,
  acknowledged: ReadonlySet<string>,
  place: string,
): Promise<void> {
  const ledger = await open(url);
  try {
    const check = await ledger.verify('firm-a');
    expect(check, place).toMatchObject({ sound: true });
    const timesById = new Map<string, number>();
    for (const { id } of await ledger.listFacts('firm-a', { limit: 10_000_000 }))
      timesById.set(id, (timesById.get(id) ?? 0) + 1);
    const lost = [...acknowledged].filter((id) => timesById.get(id) !== 1);
    expect(lost, `${place}: acknowledged facts that are not there exactly once`).toEqual([]);
    const before = await dump(ledger, 'firm-a');
    await ledger.rebuild('firm-a');
    expect((await dump(ledger, 'firm-a')) === before, `${place}: projections differ from a rebuild`).toBe(
      true,
    );
  } finally {
    await ledger.close();
  }
}

async function killClient(child: ChildProcess): Promise<void> {
  child.kill('SIGKILL');
}

describe('kill -9 under load', () => {
  test(`SQLite: ${KILLS} kills at random moments, seed ${SEED}`, { timeout: 600_000 }, async () => {
    const count = await killRepeatedly(join(folder.path, 'killed.db'), KILLS, SEED, killClient);
    expect(count).toBeGreaterThan(KILLS);
  });

  test.skipIf(postgres === undefined)(
    `PostgreSQL: ${KILLS} kills of the client at random moments, seed ${SEED + 1}`,
    { timeout: 600_000 },
    async () => {
      const url = (await postgres?.createDatabase()) ?? '';
      expect(await killRepeatedly(url, KILLS, SEED + 1, killClient)).toBeGreaterThan(KILLS);
    },
  );

  // Not with a server that is not ours to crash (DATABASE_URL_TEST).
  test.skipIf(postgres?.crashAndRestart === undefined)(
    `PostgreSQL: the server itself killed and recovered, seed ${SEED + 2}`,
    { timeout: 600_000 },
    async () => {
      const url = (await postgres?.createDatabase()) ?? '';
      const kills = Math.ceil(KILLS / 3);
      const count = await killRepeatedly(url, kills, SEED + 2, async (child) => {
        await postgres?.crashAndRestart?.();
        child.kill('SIGKILL');
      });
      expect(count).toBeGreaterThan(kills);
    },
  );
});
