import { strToU8, zipSync } from 'fflate';

export interface WorkbookOptions {
  readonly date1904?: boolean;
  /** put before the sheet's XML */
  readonly prolog?: string;
}

/** A workbook of one sheet from the XML of its cells, row by row; style 1 is a date. */
export function makeXlsx(
  rows: readonly string[],
  { date1904 = false, prolog = '' }: WorkbookOptions = {},
): Uint8Array {
  const main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
  const sheet = rows.map((cells, index) => `<row r="${index + 1}">${cells}</row>`).join('');
  return zipSync({
    'xl/workbook.xml': strToU8(
      `<workbook ${main} xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><workbookPr date1904="${date1904}"/><sheets><sheet name="Book" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    ),
    'xl/_rels/workbook.xml.rels': strToU8(
      '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
    ),
    'xl/styles.xml': strToU8(
      `<styleSheet ${main}><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>`,
    ),
    'xl/worksheets/sheet1.xml': strToU8(
      `${prolog}<worksheet ${main}><sheetData>${sheet}</sheetData></worksheet>`,
    ),
  });
}
