import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openLedger } from '@sillwatch/ledger';
import {
  type AnyFact,
  compareSteps,
  dayToText,
  type Finding,
  parseStories,
  runStory,
  type Story,
  timelinessOn,
} from '@sillwatch/trade';
import { afterAll, describe, expect, it } from 'vitest';
import { run } from './run.ts';

const stories = join(import.meta.dirname, '../../../packages/trade/stories');
const folder = mkdtempSync(join(tmpdir(), 'sillwatch-stories-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const cases = readdirSync(stories)
  .filter((file) => file.endsWith('.story'))
  .flatMap((file) => parseStories(readFileSync(join(stories, file), 'utf8'), file));

/** A ledger that holds the story's facts and what its firm must have entered before. */
async function keep(story: Story, facts: readonly AnyFact[], name: string): Promise<string> {
  const data = join(folder, name);
  mkdirSync(data, { recursive: true });
  const [first] = facts;
  if (first === undefined) throw new Error('a story has facts');
  const firmFact = (kind: string, body: unknown, index: number): AnyFact => ({
    ...first,
    id: `00000000-0000-7000-8000-00000000000${index}`,
    property: null,
    station: null,
    kind,
    body,
  });
  const ledger = await openLedger({ url: join(data, 'sillwatch.db') });
  const all = [firmFact('profile set', story.profile, 1), firmFact('model set', story.model, 2), ...facts];
  const verdicts = await ledger.append(first.firm, all, '2099-01-01T00:00:00Z');
  expect(verdicts.filter((one) => one.verdict !== 'accepted')).toEqual([]);
  await ledger.close();
  return data;
}

function options(finding: Finding): readonly string[] {
  if (finding.reach !== 'opened') return ['--reach', finding.reach, '--why', finding.why];
  const { termites, baitLeft, monitor, housing, occupants } = finding;
  return [
    '--termites',
    termites,
    '--bait-left',
    baitLeft,
    '--monitor',
    monitor,
    '--housing',
    housing,
    '--occupants',
    occupants,
  ];
}

describe('the stories of the rules, told to the command line', () => {
  it('are all there', () => {
    expect(cases.length).toBeGreaterThan(40);
  });

  it.each(cases.map((story, index) => [story.title, story, index] as const))(
    '%s',
    async (_, story, index) => {
      const { facts, steps } = runStory(story);
      const last = story.looks.at(-1);
      if (last !== undefined && steps !== undefined) {
        const data = await keep(story, facts.slice(0, -1), `steps-${index}`);
        const outcome = await run([
          'steps',
          'property-1',
          '1',
          '--task',
          last.task,
          ...options(last.finding),
          '--json',
          '--data',
          data,
        ]);
        expect(outcome.err).toBe('');
        expect(compareSteps(story, JSON.parse(outcome.out))).toEqual([]);
      }
      const dues = story.expected.filter((one) => one.what === 'due on');
      if (dues.length === 0) return;
      const data = await keep(story, facts, `due-${index}`);
      for (const { asOf, words } of dues) {
        if (asOf === null) throw new Error('a due list is of a day');
        const outcome = await run([
          'property',
          'property-1',
          '--as-of',
          dayToText(asOf),
          '--json',
          '--data',
          data,
        ]);
        const { due } = JSON.parse(outcome.out);
        const found = [
          ...due.items.map(
            (item: Parameters<typeof timelinessOn>[0] & { readonly work: string }) =>
              `${item.work} ${dayToText(item.earliest)} to ${dayToText(item.target)} to ${dayToText(item.latest)}, ${timelinessOn(item, asOf)}`,
          ),
          ...due.held.map(
            (held: { readonly feedingSince: Parameters<typeof dayToText>[0] }) =>
              `held yearly service, feeding since ${dayToText(held.feedingSince)}`,
          ),
          ...due.clearStructures.map(
            (one: { readonly clearedOn: Parameters<typeof dayToText>[0] }) =>
              `structure clear since ${dayToText(one.clearedOn)}`,
          ),
        ];
        expect(found.toSorted()).toEqual(words.toSorted());
      }
    },
  );
});
