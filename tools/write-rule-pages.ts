/** Writes the table part of every page in docs/rules from the tables themselves and the stories: `node tools/write-rule-pages.ts`. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { findStoryText, RULE_TABLES, renderTablePart, replaceTablePart } from '@sillwatch/trade';

const root = resolve(import.meta.dirname, '..');
const storyFolder = join(root, 'packages', 'trade', 'stories');
const stories = readdirSync(storyFolder)
  .filter((name) => name.endsWith('.story'))
  .sort()
  .map((name) => readFileSync(join(storyFolder, name), 'utf8'))
  .join('\n');

for (const table of RULE_TABLES) {
  const file = join(root, 'docs', 'rules', `${table.id}.md`);
  const page = readFileSync(file, 'utf8');
  const written = replaceTablePart(page, renderTablePart(table, findStoryText(stories, table.id)));
  if (written !== page) writeFileSync(file, written);
  console.log(`${table.id}: ${written === page ? 'in step' : 'written'}`);
}
