/** A cell: text, a number, a day (`{ day }`) or a formula that the spreadsheet program works out (`{ formula }`). */
export type FodsCell = string | number | { readonly day: string } | { readonly formula: string };

export interface FodsSheet {
  readonly name: string;
  readonly rows: readonly (readonly FodsCell[])[];
}

/** A flat OpenDocument spreadsheet (OASIS ODF 1.2), for LibreOffice to turn into a workbook of its own making. */
export function makeFods(sheets: readonly FodsSheet[]): string {
  const tables = sheets
    .map(
      ({ name, rows }) =>
        `<table:table table:name="${xml(name)}">${rows
          .map((cells) => `<table:table-row>${cells.map(cellXml).join('')}</table:table-row>`)
          .join('')}</table:table>`,
    )
    .join('');
  return `<?xml version="1.0" encoding="UTF-8"?>
<office:document office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet"
 xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0"
 xmlns:number="urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2">
<office:automatic-styles>
<number:date-style style:name="N1"><number:month number:style="long"/><number:text>/</number:text><number:day number:style="long"/><number:text>/</number:text><number:year number:style="long"/></number:date-style>
<style:style style:name="day" style:family="table-cell" style:data-style-name="N1"/>
</office:automatic-styles>
<office:body><office:spreadsheet>${tables}</office:spreadsheet></office:body></office:document>
`;
}

function cellXml(cell: FodsCell): string {
  if (cell === '') return '<table:table-cell/>';
  if (typeof cell === 'number')
    return `<table:table-cell office:value-type="float" office:value="${cell}"><text:p>${cell}</text:p></table:table-cell>`;
  if (typeof cell === 'string')
    return `<table:table-cell office:value-type="string"><text:p>${xml(cell)}</text:p></table:table-cell>`;
  if ('day' in cell)
    return `<table:table-cell table:style-name="day" office:value-type="date" office:date-value="${cell.day}"/>`;
  return `<table:table-cell table:formula="of:=${xml(cell.formula)}"/>`;
}

function xml(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
}
