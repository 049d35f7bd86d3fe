import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { findStoryText, RULE_TABLES, renderTablePart, replaceTablePart } from '../../src/index.ts';

const room = resolve(import.meta.dirname, '..', '..');
/** Rules that are arithmetic or a search, not a table. */
const WITHOUT_TABLE: ReadonlySet<string> = new Set([
  'due-windows.md',
  'fewest-visits.md',
  'figures.md',
  'hit-risk.md',
  'load.md',
  'placement.md',
  'planning.md',
  'walk.md',
]);
const pages = resolve(room, '..', '..', 'docs', 'rules');
const stories = readdirSync(join(room, 'stories'))
  .filter((name) => name.endsWith('.story'))
  .sort()
  .map((name) => readFileSync(join(room, 'stories', name), 'utf8'))
  .join('\n');

test.each(RULE_TABLES.map((table) => [table.id, table] as const))(
  'the page of "%s" is in step with its table (else run: node tools/write-rule-pages.ts)',
  (id, table) => {
    const page = readFileSync(join(pages, `${id}.md`), 'utf8');
    const example = findStoryText(stories, id);
    expect(example).toContain('Story: ');
    expect(replaceTablePart(page, renderTablePart(table, example))).toBe(page);
    expect(page).toMatch(/^# /);
    expect(page).toContain('Source: ');
  },
);

test('every page has its table and is listed', () => {
  const ids = RULE_TABLES.map((table) => table.id).sort();
  const files = readdirSync(pages).filter(
    (name) => name.endsWith('.md') && name !== 'README.md' && !WITHOUT_TABLE.has(name),
  );
  expect(files.sort()).toEqual(ids.map((id) => `${id}.md`).sort());
  const list = readFileSync(join(pages, 'README.md'), 'utf8');
  for (const id of ids) expect(list).toContain(`(${id}.md)`);
});

test('a page without a table part gets one, and only that part is renewed', () => {
  const [table] = RULE_TABLES;
  if (table === undefined) throw new Error('no table');
  const once = replaceTablePart('# Title\n\nBy hand.\n', renderTablePart(table, 'Story: one'));
  expect(once).toContain('By hand.');
  const twice = replaceTablePart(`${once}After.\n`, renderTablePart(table, 'Story: two'));
  expect(twice).toContain('Story: two');
  expect(twice).not.toContain('Story: one');
  expect(twice).toMatch(/By hand[\s\S]*After\.\n$/);
});
