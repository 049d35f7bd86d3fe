import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseStories, runStory, STATION_TABLES } from '../../src/index.ts';
import { compareSteps } from '../../src/stories/runStory.ts';

const FOLDER = join(import.meta.dirname, '..', '..', 'stories');
const STORIES = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.story'))
  .flatMap((name) => parseStories(readFileSync(join(FOLDER, name), 'utf8'), name));

test.each(STORIES.map((story) => [story.title, story] as const))('%s', (_title, story) => {
  const { steps } = runStory(story);
  if (steps !== undefined) expect(compareSteps(story, steps)).toEqual([]);
});

test('every table has a story', () => {
  expect(STORIES.length).toBeGreaterThanOrEqual(25);
  const told = new Set(STORIES.flatMap((story) => story.rules));
  expect(STATION_TABLES.map((table) => table.id).filter((id) => !told.has(id))).toEqual([]);
  const known = new Set(['due', ...STATION_TABLES.map((table) => table.id)]);
  expect([...told].filter((id) => !known.has(id))).toEqual([]);
  expect(new Set(STORIES.map((story) => story.title)).size).toBe(STORIES.length);
});
