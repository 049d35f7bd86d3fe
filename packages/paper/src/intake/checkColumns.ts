import type { Field } from './fields.ts';
import type { SheetMapping } from './mapping.ts';
import type { ProblemList } from './reader.ts';
import type { Sheet } from './table.ts';
import type { CellProblem, Params, Tell } from './words/tell.ts';

/** Reports columns of a mapping that the sheet does not have, has twice, or that two columns lay claim to. */
export function checkColumns(sheet: Sheet, of: SheetMapping, problems: ProblemList, tell: Tell): void {
  const report = (column: string, key: CellProblem, params: Params): void =>
    problems.add({
      file: of.file,
      sheet: of.sheet,
      row: sheet.headerRow,
      column,
      value: column,
      ...tell.cell(key, params),
    });
  const columnByField = new Map<Field, string>();
  for (const [column, field] of Object.entries(of.columns)) {
    const count = sheet.header.filter((one) => one === column).length;
    if (count === 0)
      report(column, 'column missing', { columns: sheet.header.filter((one) => one !== '').join(', ') });
    if (count > 1) report(column, 'columns alike', { count });
    const other = columnByField.get(field);
    if (other !== undefined) report(column, 'columns both', { other, label: tell.label(field) });
    columnByField.set(field, column);
  }
}
