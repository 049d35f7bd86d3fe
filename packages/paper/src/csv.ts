/** What a cell may hold; null is an empty cell. */
export type CsvCell = string | number | null;

/**
 * RFC 4180 text: CRLF line ends, the last line too; quotes where a cell needs them, doubled inside.
 * A text that a spreadsheet would run as a formula gets a leading apostrophe (OWASP, CSV injection); numbers are left alone.
 */
export function toCsv(header: readonly string[], rows: readonly (readonly CsvCell[])[]): string {
  return [header, ...rows].map((row) => `${row.map(cellToCsv).join(',')}\r\n`).join('');
}

const FORMULA = /^[\s]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]/;

function cellToCsv(cell: CsvCell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const safe = FORMULA.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}
