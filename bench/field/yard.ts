import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createIdMaker } from '@sillwatch/server';
import type { AnyFact } from '@sillwatch/trade';
import type { Page } from 'playwright-core';
import { EMAIL, PASSWORD } from '../../apps/web/test/field/support/firm.ts';
import {
  PROPERTY,
  STATIONS,
  seenBody,
  stationOf,
  yardFacts,
} from '../../apps/web/test/field/support/yard.ts';

export const HOUSE = 'House of the faulty line (invented)';

export async function makeProfile(): Promise<{ readonly folder: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'sillwatch-bench-'));
  return { folder, remove: () => rm(folder, { recursive: true, force: true, maxRetries: 5 }) };
}

export async function signIn(page: Page): Promise<void> {
  const status = await page.evaluate(
    async (body) =>
      (
        await fetch('/api/auth/sign-in', {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify(body),
        })
      ).status,
    { email: EMAIL, password: PASSWORD },
  );
  if (status !== 200) throw new Error(`sign-in: ${status}`);
}

/** Value at a share of the sorted list, by the nearest rank. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}

/** A week's work: more properties like the first, and at every station of each so many looks, a quarter apart. */
export function weekFacts(firm: string, properties: number, looks: number): readonly AnyFact[] {
  const newId = createIdMaker(Date.now);
  const first = yardFacts(firm, 'owner').slice(2);
  let seq = 10_000;
  const stamp = (fact: AnyFact, at: number): AnyFact => {
    seq += 1;
    return {
      ...fact,
      id: newId(),
      seq,
      at: new Date(at).toISOString().replace('Z', '+00:00'),
      clock: `${String(at).padStart(15, '0')}.${String(seq % 100_000).padStart(5, '0')}`,
    };
  };
  const begin = Date.UTC(2023, 0, 10, 15);
  const facts: AnyFact[] = [];
  for (let house = 0; house < properties; house += 1) {
    const property = house === 0 ? PROPERTY : `yard-${house + 1}`;
    // The first is in the ledger already; its stations get their looks.
    if (house > 0) for (const fact of first) facts.push(stamp({ ...fact, property }, begin));
    for (let look = 0; look < looks; look += 1) {
      const at = Date.UTC(2026, 0, 12, 15) - look * 91 * 86_400_000;
      for (let number = 1; number <= STATIONS; number += 1) {
        const [pattern] = first;
        if (pattern === undefined) throw new Error('no facts to go by');
        facts.push(
          stamp(
            {
              ...pattern,
              property,
              station: stationOf(number),
              kind: 'station seen',
              body: seenBody(`visit ${house} ${look}`),
            },
            house === 0 ? Date.UTC(2026, 1, 1 + look, 15) : Math.max(begin + 1000, at),
          ),
        );
      }
    }
  }
  return facts;
}
