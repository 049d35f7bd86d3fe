import { randomBytes } from 'node:crypto';
import { clockToText, type FactBodies, type FactKind, uuidV7 } from '@sillwatch/trade';
import type { Page } from 'playwright-core';

interface Firm {
  readonly id: string;
  readonly firm: { readonly id: string };
}
let seq = 0;

/** Records facts of the firm as the person who is signed in, over the API. Throws when one is refused. */
export async function recordOfFirm<K extends FactKind>(
  page: Page,
  base: string,
  kind: K,
  bodies: readonly FactBodies[K][],
): Promise<void> {
  const me: Firm = await (await page.request.get(`${base}/api/me`)).json();
  const facts = bodies.map((body) => {
    seq += 1;
    const ms = Date.now();
    return {
      id: uuidV7(ms, new Uint8Array(randomBytes(10))),
      firm: me.firm.id,
      property: null,
      station: null,
      by: me.id,
      device: 'device-of-a-test',
      seq,
      at: new Date(ms).toISOString().replace('Z', '+00:00'),
      clock: clockToText({ ms, count: seq }),
      kind,
      body,
    };
  });
  const answer = await page.request.post(`${base}/api/facts`, { headers: { origin: base }, data: { facts } });
  const { verdicts } = await answer.json();
  if (!answer.ok() || verdicts.some(({ verdict }: { verdict: string }) => verdict !== 'accepted'))
    throw new Error(`not taken: ${JSON.stringify(verdicts)}`);
}

/** Asks for a plan of the first branch and waits until it is over. */
export async function planFirstBranch(page: Page, base: string, body: object): Promise<string> {
  const { branches } = await (await page.request.get(`${base}/api/branches`)).json();
  const made = await page.request.post(`${base}/api/plans`, {
    headers: { origin: base },
    data: { branch: branches[0].branch, ...body },
  });
  const { id } = await made.json();
  for (let state = 'waiting'; state === 'waiting' || state === 'running'; )
    ({ state } = await (await page.request.get(`${base}/api/plans/${id}?after=1&waitSeconds=5`)).json());
  return id;
}

/** So that the first week has five days on whatever day the tests run. */
export function nextMonday(): string {
  const day = new Date();
  day.setUTCDate(day.getUTCDate() + ((8 - day.getUTCDay()) % 7 || 7));
  return day.toISOString().slice(0, 10);
}
