import { drawingToSvg } from '@sillwatch/ring';
import { PAPER_STYLE } from './htmlStyle.ts';
import type { Block, DiagramBlock, Document, FigureBlock, FigureMark, TableBlock } from './model.ts';

/**
 * The paper as one HTML page that needs nothing else: no script, no network (its own policy forbids both),
 * headings in order, table headers with scope (WCAG 2.2 success criterion 1.3.1), print rules for letter paper.
 */
export function renderHtml(document: Document): string {
  const { letterhead } = document;
  return `<!doctype html>
<html lang="${toSafe(document.lang)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${toSafe(`${document.title}: ${document.subtitle}`)}</title>
<style>${PAPER_STYLE}
@page { size: letter ${document.layout}; margin: 0.8in 0.75in; }</style>
</head>
<body class="${document.layout}">
<header class="letterhead"><p class="firm">${toSafe(letterhead.name)}</p>${letterhead.lines.map((line) => `<p>${toSafe(line)}</p>`).join('')}</header>
<main>
${document.banner === null ? '' : `<p class="banner"><strong>${toSafe(document.banner.title)}</strong> ${toSafe(document.banner.text)}</p>\n`}<h1>${toSafe(document.title)}</h1>
<p class="subtitle">${toSafe(document.subtitle)}</p>
${document.blocks.map((block, place) => blockToHtml(block, place)).join('\n')}
</main>
<footer><p>${toSafe(document.foot)}</p></footer>
</body>
</html>
`;
}

const REPLACEMENTS: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text made safe for HTML content and quoted attributes; controls that HTML forbids are shown as a replacement mark. */
export function toSafe(text: string): string {
  return text
    .replace(/[&<>"']/g, (character) => REPLACEMENTS[character] ?? '')
    .replace(/[\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}]/gu, (character) =>
      /[\n\t]/.test(character) ? character : '\uFFFD',
    );
}

function lines(text: string): string {
  return toSafe(text).replaceAll('\n', '<br>');
}

function blockToHtml(block: Block, place: number): string {
  switch (block.kind) {
    case 'heading':
      return `<h${block.level}>${toSafe(block.text)}</h${block.level}>`;
    case 'paragraph':
      return `<p class="${block.tone}">${lines(block.text)}</p>`;
    case 'details':
      return `<dl class="details">${block.items.map((item) => `<div><dt>${toSafe(item.key)}</dt><dd>${lines(item.value)}</dd></div>`).join('')}</dl>`;
    case 'counts':
      return `<ul class="counts">${block.items.map((item) => `<li><strong>${toSafe(item.value)}</strong> ${toSafe(item.label)}</li>`).join('')}</ul>`;
    case 'list':
      return `<ul>${block.items.map((item) => `<li>${lines(item)}</li>`).join('')}</ul>`;
    case 'table':
      return tableToHtml(block);
    case 'caution':
      return `<section class="caution" role="note" aria-label="${toSafe(block.title)}"><p class="label">${toSafe(block.title)}</p><ul>${block.items.map((item) => `<li>${lines(item)}</li>`).join('')}</ul></section>`;
    case 'note':
      return `<section class="note" role="note" aria-label="${toSafe(block.title)}"><p class="label">${toSafe(block.title)}</p><p>${lines(block.text)}</p></section>`;
    case 'figure':
      return figureToHtml(block);
    case 'diagram':
      return diagramToHtml(block, place);
  }
}

function tableToHtml(table: TableBlock): string {
  const alignOf = (index: number) => (table.columns[index]?.align === 'right' ? ' class="right"' : '');
  const total = table.columns.reduce((sum, column) => sum + column.share, 0);
  const widths = table.columns
    .map((column) => `<col style="width:${((column.share / total) * 100).toFixed(2)}%">`)
    .join('');
  const head = table.columns
    .map((column, index) => `<th scope="col"${alignOf(index)}>${lines(column.header)}</th>`)
    .join('');
  const body = table.rows
    .map((row) => {
      const inner = (cell: string, index: number) =>
        row.look === 'struck' && cell !== '' && table.columns[index]?.steady !== true
          ? `<del>${lines(cell)}</del>`
          : lines(cell);
      const cells = row.cells.map((cell, index) =>
        index === 0
          ? `<th scope="row"${alignOf(index)}>${inner(cell, index)}</th>`
          : `<td${alignOf(index)}>${inner(cell, index)}</td>`,
      );
      return `<tr class="${row.look}">${cells.join('')}</tr>`;
    })
    .join('\n');
  const label = toSafe(table.caption);
  return `<div class="scroll" role="region" aria-label="${label}" tabindex="0"><table><caption>${label}</caption><colgroup>${widths}</colgroup>
<thead><tr>${head}</tr></thead>
<tbody>
${body}
</tbody></table></div>`;
}

function figureToHtml(figure: FigureBlock): string {
  return `<figure><svg viewBox="0 0 ${figure.width} ${figure.height}" role="img" aria-label="${toSafe(figure.alt)}">${figure.marks.map(markToSvg).join('')}</svg><figcaption>${toSafe(figure.caption)}</figcaption></figure>`;
}

/** Its place among the blocks keeps the ids of two drawings apart. */
function diagramToHtml({ drawing, caption }: DiagramBlock, place: number): string {
  return `<figure class="diagram">${drawingToSvg(drawing, `diagram-${place}`)}<figcaption>${toSafe(caption)}</figcaption></figure>`;
}

function markToSvg(mark: FigureMark): string {
  switch (mark.kind) {
    case 'path':
      return `<path d="${toSafe(mark.d)}" fill="${toSafe(mark.fill ?? 'none')}" stroke="${toSafe(mark.stroke ?? 'none')}" stroke-width="${mark.strokeWidth}"/>`;
    case 'label':
      return `<text x="${mark.x}" y="${mark.y}" font-size="${mark.size}" text-anchor="${mark.anchor}">${toSafe(mark.text)}</text>`;
  }
}
