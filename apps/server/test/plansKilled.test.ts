import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { type Ledger, openLedger } from '@sillwatch/ledger';
import { foldRounds } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { openPlanStore, type PlanJob } from '../src/plans/planStore.ts';
import { publishPlan } from '../src/plans/publish.ts';
import { Client, FIRM } from './support/harness.ts';
import { planBranch, seedBranch, waitForPlan } from './support/plans.ts';

const BRANCH = 'killed';

async function startChild(
  database: string,
): Promise<{ readonly child: ChildProcess; readonly client: Client }> {
  const script = fileURLToPath(new URL('./support/servePlans.ts', import.meta.url));
  const child = spawn(process.execPath, [script, database], { stdio: ['ignore', 'pipe', 'inherit'] });
  const first = await createInterface({ input: child.stdout })[Symbol.asyncIterator]().next();
  if (first.done === true) throw new Error('the server did not start');
  const client = new Client(first.value);
  await client.signIn('lead@example.com');
  return { child, client };
}

async function end(child: ChildProcess, signal: 'SIGKILL' | 'SIGTERM'): Promise<void> {
  const exited = new Promise((resolve) => child.once('exit', resolve));
  child.kill(signal);
  await exited;
}

async function withFolder(work: (database: string) => Promise<void>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'sillwatch-plans-'));
  try {
    const database = join(folder, 'ledger.db');
    const ledger = await openLedger({ url: database });
    await seedBranch(ledger, FIRM.id, 'lead-own', BRANCH, { properties: 6 });
    await ledger.close();
    await work(database);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe('a server that ends while it plans', () => {
  it.each(['SIGKILL', 'SIGTERM'] as const)('%s: goes on with the job at the next start', async (signal) => {
    await withFolder(async (database) => {
      const one = await startChild(database);
      const asked = await one.client.post('/api/plans', { branch: BRANCH, seconds: 4 });
      expect(asked.status).toBe(201);
      // Until it is at it.
      for (let after = 0; ; ) {
        const { body } = await one.client.get(`/api/plans/${asked.body.id}?after=${after}`);
        if (body.progress !== null) break;
        after = body.version;
      }
      await end(one.child, signal);
      const two = await startChild(database);
      const done = await waitForPlan(two.client, asked.body.id);
      expect(done.state).toBe('done');
      expect(done.plan.totals.visits).toBeGreaterThan(5);
      await end(two.child, 'SIGTERM');
    });
  });
});

describe('a publication', () => {
  it('that was acknowledged is there after a kill, and repeated on the next server it changes nothing', async () => {
    await withFolder(async (database) => {
      const one = await startChild(database);
      const made = await planBranch(one.client, BRANCH);
      const sent = await one.client.post(`/api/plans/${made.id}/publish`);
      expect(sent.status).toBe(200);
      await end(one.child, 'SIGKILL');
      const two = await startChild(database);
      const rounds = await two.client.get('/api/rounds?to=2099-01-01');
      expect(rounds.body.rounds).toEqual(made.plan.rounds);
      expect((await two.client.post(`/api/plans/${made.id}/publish`)).body).toEqual(sent.body);
      await end(two.child, 'SIGTERM');
      const ledger = await openLedger({ url: database });
      expect(await ledger.listFacts(FIRM.id, { kinds: ['round published'] })).toHaveLength(
        made.plan.rounds.length,
      );
      expect(await ledger.verify(FIRM.id)).toMatchObject({ sound: true });
      await ledger.close();
    });
  });

  it.each(['before the facts are stored', 'after the facts are stored'] as const)(
    'that is cut off %s is whole when it is repeated',
    async (when) => {
      await withFolder(async (database) => {
        const one = await startChild(database);
        const { id, plan } = await planBranch(one.client, BRANCH);
        await end(one.child, 'SIGTERM');
        const ledger = await openLedger({ url: database });
        const store = await openPlanStore(database);
        const find = async (): Promise<PlanJob> => {
          const job = await store.find(FIRM.id, id);
          if (job === undefined) throw new Error('the plan is gone');
          return job;
        };
        const cut: Pick<Ledger, 'append'> = {
          append: async (...facts) => {
            if (when === 'after the facts are stored') await ledger.append(...facts);
            throw new Error('cut off');
          },
        };
        const cutting: Ledger = Object.assign(Object.create(ledger), cut);
        await expect(publishPlan(store, cutting, await find(), 'lead-own', Date.now)).rejects.toThrow(
          'cut off',
        );
        // A second later, by somebody else.
        await publishPlan(store, ledger, await find(), 'another', () => Date.now() + 1000);
        const facts = await ledger.listFacts(FIRM.id, { kinds: ['round published'] });
        expect(facts).toHaveLength(plan.rounds.length);
        expect(foldRounds(facts)).toEqual(plan.rounds);
        await store.close();
        await ledger.close();
      });
    },
  );
});
