import { FIELDS, type Field } from './fields.ts';
import type { SheetMapping } from './mapping.ts';
import type { ProblemList } from './reader.ts';
import type { Sheet } from './table.ts';

/** Reports columns of a mapping that the sheet does not have, has twice, or that two columns lay claim to. */
export function checkColumns(sheet: Sheet, of: SheetMapping, problems: ProblemList): void {
  const report = (column: string, reason: string, remedy: string): void =>
    problems.add({
      file: of.file,
      sheet: of.sheet,
      row: sheet.headerRow,
      column,
      value: column,
      reason,
      remedy,
    });
  const columnByField = new Map<Field, string>();
  for (const [column, field] of Object.entries(of.columns)) {
    const count = sheet.header.filter((one) => one === column).length;
    if (count === 0)
      report(
        column,
        'the mapping names a column that the sheet does not have',
        `The sheet has: ${sheet.header.filter((one) => one !== '').join(', ')}.`,
      );
    if (count > 1)
      report(
        column,
        `${count} columns have this name`,
        'Give each its own, or leave them out in the mapping.',
      );
    const other = columnByField.get(field);
    if (other !== undefined)
      report(
        column,
        `it and ${JSON.stringify(other)} are both taken for the ${FIELDS[field].label}`,
        'Name one of the two in the mapping.',
      );
    columnByField.set(field, column);
  }
}
