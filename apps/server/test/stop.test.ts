import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { openLedger } from '@sillwatch/ledger';
import { describe, expect, it } from 'vitest';
import { createFacts } from './support/facts.ts';
import { Client, FIRM } from './support/harness.ts';

describe('a server that is stopped under load', () => {
  it.each([
    ['SIGTERM', 'ends by itself with everything it acknowledged, and refuses nothing half-way'],
    ['SIGKILL', 'has everything it acknowledged all the same'],
  ] as const)('%s: %s', async (signal, _promise) => {
    const folder = mkdtempSync(join(tmpdir(), 'sillwatch-stop-'));
    const database = join(folder, 'ledger.db');
    const { child, url } = await startChild(database);
    const acknowledged = new Set<string>();
    let answered = 0;
    const phones = Array.from({ length: 8 }, (_, index) =>
      sendUntilGone(url, `phone-${signal}-${index}`, (ids) => {
        answered += 1;
        for (const id of ids) acknowledged.add(id);
      }),
    );
    await until(() => answered >= 40);
    const exited = new Promise<number | null>((resolve) => child.once('exit', resolve));
    child.kill(signal);
    const code = await exited;
    await Promise.all(phones);
    if (signal === 'SIGTERM') expect(code).toBe(0);

    const ledger = await openLedger({ url: database });
    const stored = new Set<string>();
    let after = 0;
    for (;;) {
      const page = await ledger.listFacts(FIRM.id, { afterSeq: after, limit: 5000 });
      for (const { id } of page) stored.add(id);
      const last = page.at(-1)?.receipt?.seq;
      if (last === undefined) break;
      after = last;
    }
    expect(acknowledged.size).toBeGreaterThan(300);
    expect([...acknowledged].filter((id) => !stored.has(id))).toEqual([]);
    expect(await ledger.verify(FIRM.id)).toMatchObject({ sound: true });
    await ledger.close();
    rmSync(folder, { recursive: true, force: true });
  });
});

async function startChild(database: string): Promise<{ readonly child: ChildProcess; readonly url: string }> {
  const script = fileURLToPath(new URL('./support/serve.ts', import.meta.url));
  const child = spawn(process.execPath, [script, database, 'tech@example.com'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const first = await createInterface({ input: child.stdout })[Symbol.asyncIterator]().next();
  if (first.done === true) throw new Error('the server did not start');
  return { child, url: first.value };
}

/** Sends batches of ten until the server no longer answers; reports what each answer acknowledged. */
async function sendUntilGone(
  url: string,
  device: string,
  onAnswer: (ids: readonly string[]) => void,
): Promise<void> {
  const client = new Client(url);
  await client.signIn('tech@example.com');
  const facts = createFacts(FIRM.id, 'tech-own', device);
  for (;;) {
    const batch = Array.from({ length: 10 }, (_, index) =>
      facts.seen('own-house', 'own-house-s1', 100 + index),
    );
    try {
      const answer = await client.post('/api/facts', { facts: batch });
      if (answer.status !== 200) return;
      const verdicts: readonly { readonly id: string; readonly verdict: string }[] = answer.body.verdicts;
      onAnswer(verdicts.filter(({ verdict }) => verdict === 'accepted').map(({ id }) => id));
    } catch {
      return;
    }
  }
}

async function until(isSo: () => boolean): Promise<void> {
  const end = Date.now() + 60_000;
  while (!isSo()) {
    if (Date.now() > end) throw new Error('the server took a minute over forty batches');
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}
