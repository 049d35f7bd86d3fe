import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { checkStory, dueWork, parseStories, RULE_TABLES, runStory } from '../../src/index.ts';

const FOLDER = join(import.meta.dirname, '..', '..', 'stories');
const STORIES = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.story'))
  .flatMap((name) => parseStories(readFileSync(join(FOLDER, name), 'utf8'), name));

test.each(STORIES.map((story) => [story.title, story] as const))('%s', (_title, story) => {
  expect(checkStory(story)).toEqual([]);
});

test('every table has a story', () => {
  expect(STORIES.length).toBeGreaterThanOrEqual(25);
  const told = new Set(STORIES.flatMap((story) => story.rules));
  expect(RULE_TABLES.map((table) => table.id).filter((id) => !told.has(id))).toEqual([]);
  const known = new Set(RULE_TABLES.map((table) => table.id));
  expect([...told].filter((id) => !known.has(id))).toEqual([]);
  expect(new Set(STORIES.map((story) => story.title)).size).toBe(STORIES.length);
});

test('the interval that the steps name is the one that the due list counts', () => {
  for (const story of STORIES) {
    const { steps, after } = runStory(story);
    const last = story.looks.at(-1);
    if (steps === undefined || last === undefined) continue;
    const [look] = dueWork([after], story.profile, last.day).items;
    expect([story.title, look?.work]).toEqual([story.title, steps.next]);
  }
});
