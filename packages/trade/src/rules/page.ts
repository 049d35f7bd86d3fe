import type { AnyRow, AnyTable } from './table.ts';

const BEGIN =
  '<!-- From here to the end of the table: written by tools/write-rule-pages.ts, do not edit. -->';
const END = '<!-- End of the table. -->';

/** The part of a rule's page (Markdown) that is written from its table: inputs, rows, and a story as worked example. */
export function renderTablePart(table: AnyTable, example: string | undefined): string {
  const inputs = Object.entries(table.inputs).map(
    ([name, values]) => `- ${nameToWords(name)}: ${values.join(', ')}`,
  );
  return [
    BEGIN,
    '',
    '## Asked',
    '',
    ...inputs,
    '',
    '## Rows',
    '',
    ...alignTable([['row', 'when', 'answer', 'steps', 'read aloud'], ...table.rows.map(listCells)]),
    '',
    ...(example === undefined ? [] : ['## Worked example', '', '```text', example, '```', '']),
    END,
  ].join('\n');
}

/** The page with its table part renewed; a page without one gets it at its end. */
export function replaceTablePart(page: string, part: string): string {
  const begin = page.indexOf(BEGIN);
  const end = page.indexOf(END);
  if (begin < 0 || end < begin) return `${page.trimEnd()}\n\n${part}\n`;
  return page.slice(0, begin) + part + page.slice(end + END.length);
}

function listCells(row: AnyRow): readonly string[] {
  const when = Object.entries(row.when).map(([name, wanted]) => {
    const values = wanted === undefined ? 'any' : typeof wanted === 'string' ? wanted : wanted.join(' / ');
    return `${nameToWords(name)}: ${values}`;
  });
  const cells = [
    row.id,
    when.length === 0 ? 'always' : when.join('; '),
    row.answer,
    row.steps === undefined ? '' : row.steps.join('; '),
    row.reads,
  ];
  return cells.map((cell) => cell.replaceAll('|', '\\|'));
}

/** Columns of one width each, as formatters of Markdown leave them. */
function alignTable([head = [], ...rows]: readonly (readonly string[])[]): readonly string[] {
  const widths = head.map((_, i) => Math.max(3, ...[head, ...rows].map((cells) => cells[i]?.length ?? 0)));
  const line = (cells: readonly string[]): string =>
    `| ${widths.map((width, i) => (cells[i] ?? '').padEnd(width)).join(' | ')} |`;
  return [line(head), line(widths.map((width) => '-'.repeat(width))), ...rows.map(line)];
}

/** `mayMove` -> `may move` */
function nameToWords(name: string): string {
  return name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}
