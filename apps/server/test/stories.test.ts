import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type AnyFact, compareSteps, parseStories, runStory, type Story } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { seedPerson, signedIn, startTestServer, type TestServer } from './support/harness.ts';

const folder = join(import.meta.dirname, '../../../packages/trade/stories');
const cases = readdirSync(folder)
  .filter((file) => file.endsWith('.story'))
  .flatMap((file) => parseStories(readFileSync(join(folder, file), 'utf8'), file))
  .filter((story) => story.looks.length > 0);

let server: TestServer;
beforeAll(async () => {
  server = await startTestServer();
});
afterAll(() => server.end());

/** Each story is a firm of its own, which has entered its label profile and station model. */
async function keep(story: Story, facts: readonly AnyFact[], firm: string): Promise<void> {
  const [first] = facts;
  if (first === undefined) throw new Error('a story has facts');
  const own = (kind: string, body: unknown, index: number): AnyFact => ({
    ...first,
    id: `00000000-0000-7000-8000-00000000000${index}`,
    property: null,
    station: null,
    kind,
    body,
  });
  const all = [own('profile set', story.profile, 1), own('model set', story.model, 2), ...facts];
  const verdicts = await server.ledger.append(
    firm,
    all.map((fact) => ({ ...fact, firm })),
    '2099-01-01T00:00:00Z',
  );
  expect(verdicts.filter((one) => one.verdict !== 'accepted')).toEqual([]);
}

function stationOf(facts: readonly AnyFact[]): string {
  const station = facts.find((fact) => fact.station !== null)?.station;
  if (typeof station !== 'string') throw new Error('a story has a station');
  return station;
}

interface Worded {
  readonly key: string;
}

describe('the stories of the rules, told to the server', () => {
  it.each(cases.map((story, index) => [story.title, story, `story-${index}`] as const))(
    '%s',
    async (_, story, firm) => {
      const { facts } = runStory(story);
      const last = story.looks.at(-1);
      if (last === undefined) throw new Error('a story has looks');
      await keep(story, facts.slice(0, -1), firm);
      const email = `technician@${firm}.example`;
      await seedPerson(server, 'technician', { firm: { id: firm, name: `Invented firm ${firm}` }, email });
      const client = await signedIn(server, email);
      const { task, finding } = last;
      const answer = await client.post('/api/steps', {
        property: 'property-1',
        station: stationOf(facts),
        task,
        finding,
      });
      expect(answer.status).toBe(200);
      const keysOf = (list: readonly Worded[]): readonly string[] => list.map(({ key }) => key);
      const steps = {
        ...answer.body,
        tell: keysOf(answer.body.tell),
        cautions: keysOf(answer.body.cautions),
      };
      expect(compareSteps(story, steps)).toEqual([]);
    },
  );
});
