export { DATE_FIELDS, FIELDS, type Field, isField, RECORD_TYPES, type RecordType } from './fields.ts';
export { type ColumnGuess, type Guess, guessMapping } from './guessMapping.ts';
export {
  type Mapping,
  type MappingProblem,
  type MappingResult,
  overrideMapping,
  type SheetMapping,
} from './mapping.ts';
export {
  type ImportContext,
  type ImportInput,
  type ImportPlan,
  type ImportSummary,
  type Known,
  knownOf,
  planImport,
} from './planImport.ts';
export { cellInWords, type RowProblem } from './reader.ts';
export { readTable } from './readTable.ts';
export type { FileProblem, Sheet, Table, TableResult } from './table.ts';
export { IMPORT_BACK_DEVICE, IMPORT_DEVICE } from './writer.ts';
