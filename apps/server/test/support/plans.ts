import type { Ledger } from '@sillwatch/ledger';
import { expect } from 'vitest';
import { createFacts, firstFacts } from './facts.ts';
import type { Answer, Client } from './harness.ts';

const ALL_WEEK = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, from: '08:00', to: '17:00' }));

export interface SeededBranch {
  readonly branch: string;
  readonly properties: readonly string[];
  readonly people: readonly string[];
}

/** A branch in mid-ocean with properties whose yearly service is long owed, and people who drive. */
export async function seedBranch(
  ledger: Ledger,
  firm: string,
  by: string,
  branch: string,
  { properties = 1, people = [`${branch}-driver`] as readonly string[], until = '17:00' } = {},
): Promise<SeededBranch> {
  const ids = Array.from({ length: properties }, (_, n) => `${branch}-house-${n + 1}`);
  const facts = createFacts(firm, by, `office-of-${branch}`);
  await ledger.append(
    firm,
    [
      ...ids.flatMap((property) => firstFacts(firm, by, property, branch)),
      ...ids.map((property, n) => ({
        ...facts.other(property, 'property changed'),
        body: { position: { latitude: 31.2 + n * 0.013, longitude: -47.6 + ((n * 7) % 5) * 0.011 } },
      })),
      ...people.map((person) => ({
        ...facts.other(null, 'technician set'),
        body: {
          person,
          name: `Invented ${person}`,
          branch,
          licenceNumber: null,
          start: { latitude: 31.19, longitude: -47.61 },
          end: { latitude: 31.19, longitude: -47.61 },
          hours: ALL_WEEK.map((day) => ({ ...day, to: until })),
          breakMinutes: 30,
          mostOvertimeMinutes: 60,
          skills: [],
          active: true,
        },
      })),
    ],
    '2026-01-01T00:00:00.000Z',
  );
  return { branch, properties: ids, people };
}

export type PlanAnswer = Answer['body'];

/** Asks for a plan and waits until it is over. */
export async function planBranch(
  client: Client,
  branch: string,
  body: Readonly<Record<string, unknown>> = { iterations: 50 },
): Promise<PlanAnswer> {
  const asked = await client.post('/api/plans', { branch, ...body });
  expect(asked.status, asked.text).toBe(201);
  return waitForPlan(client, asked.body.id);
}

export async function waitForPlan(client: Client, id: string): Promise<PlanAnswer> {
  let after = 0;
  for (;;) {
    const { status, body, text } = await client.get(`/api/plans/${id}?after=${after}&waitSeconds=20`);
    expect(status, text).toBe(200);
    if (!['waiting', 'running'].includes(body.state)) return body;
    after = body.version;
  }
}
