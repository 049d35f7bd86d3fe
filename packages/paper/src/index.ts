export * from './bundle/index.ts';
export * from './calendar/index.ts';
export { type CsvCell, toCsv } from './csv.ts';
export { renderHtml } from './document/html.ts';
export type { Block, DiagramBlock, Document, FigureBlock, FigureMark } from './document/model.ts';
export { type DiagramPaper, renderDiagramPdf } from './document/pdf/renderDiagram.ts';
export { renderPdf } from './document/pdf/renderPdf.ts';
export { type Binding, type BoundPaper, renderTogether } from './document/pdf/renderTogether.ts';
export * from './intake/index.ts';
export * from './labels/index.ts';
export { applicationRecords, isOfRecord, type RecordRow } from './report/applicationRecords.ts';
export {
  type CustomerPageInput,
  customerPage,
  gonePage,
  PAGE_STYLE,
} from './report/customerPage.ts';
export type { FirmCard } from './report/firm.ts';
export {
  dayOfVisit,
  MAIL_PAPERS,
  type MailPaper,
  type MailWordsInput,
  mailWords,
  paperLanguageOf,
} from './report/mailWords.ts';
export {
  RECORD_FIELDS,
  type RecordField,
  recordFieldsFor,
  STATE_RECORD_FIELDS,
} from './report/recordFields.ts';
export { type RecordFilter, type RecordQuestion, readRecordFilter } from './report/recordFilter.ts';
export { type RecordPaperInput, recordCsv, recordDocument } from './report/recordPaper.ts';
export { type RenewalLetterInput, renewalLetter } from './report/renewalLetter.ts';
export {
  gapInWords,
  LETTER_GAPS,
  type LetterGap,
  type LetterLeftOut,
  letterGaps,
  lettersBinding,
  lettersLeftOut,
  type MonthOfLetters,
} from './report/renewalMonth.ts';
export {
  type StationListInput,
  stationListCsv,
  stationListDocument,
  stationRows,
} from './report/stationList.ts';
export { type VisitReportInput, visitReport } from './report/visitReport.ts';
export { DIAGRAM_WORDS, PAPER_LANGUAGES, type PaperLanguage } from './report/words/say.ts';
export { type WorkListInput, workListCsv, workListDocument } from './report/workList.ts';
