import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const TOOLS = ['pdftotext', 'pdftoppm', 'pdfinfo', 'pdffonts', 'qpdf'];

/** Independent readers of PDF (Debian packages poppler-utils and qpdf). In CI they must be there; elsewhere their checks are passed over. */
export const missingPdfTools = TOOLS.filter((tool) => spawnSync(tool, ['--version']).error !== undefined);
if (missingPdfTools.length > 0) {
  const words = `PDF readers not installed: ${missingPdfTools.join(', ')} (packages poppler-utils and qpdf)`;
  if (process.env['CI'] !== undefined) throw new Error(words);
  process.stderr.write(`${words}; the checks that need them are skipped\n`);
}

/** Runs a reader on the bytes and gives what it prints; `{file}` in the arguments stands for the file. Throws when the reader complains. */
export function readPdf(bytes: Uint8Array, tool: string, args: readonly string[]): string {
  const folder = mkdtempSync(join(tmpdir(), 'paper-'));
  const file = join(folder, 'paper.pdf');
  try {
    writeFileSync(file, bytes);
    return execFileSync(
      tool,
      args.map((arg) => arg.replace('{file}', file)),
      { encoding: 'utf8', maxBuffer: 64_000_000 },
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Pages as text, in the order in which the file draws it. */
export function pagesOf(bytes: Uint8Array): readonly string[] {
  return readPdf(bytes, 'pdftotext', ['-raw', '-enc', 'UTF-8', '{file}', '-']).split('\f').slice(0, -1);
}

/** Without white space: how a text is broken into lines says nothing. */
export function squeeze(text: string): string {
  return text.normalize('NFC').replace(/\s+/gu, '');
}

/** A page as poppler draws it: three bytes a pixel, rows from the top (portable pixmap, `P6`). */
export function renderPage(
  bytes: Uint8Array,
  page: number,
  dpi: number,
): { readonly width: number; readonly height: number; readonly pixels: Uint8Array } {
  const folder = mkdtempSync(join(tmpdir(), 'paper-'));
  try {
    const file = join(folder, 'paper.pdf');
    writeFileSync(file, bytes);
    const ppm = execFileSync(
      'pdftoppm',
      ['-r', String(dpi), '-f', String(page), '-l', String(page), '-singlefile', file],
      { maxBuffer: 256_000_000 },
    );
    const head = /^P6\s+(\d+)\s+(\d+)\s+255\s/.exec(ppm.subarray(0, 40).toString('latin1'));
    if (head === null) throw new Error('pdftoppm gave no pixmap');
    return { width: Number(head[1]), height: Number(head[2]), pixels: ppm.subarray(head[0].length) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
