import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const TOOLS = ['pdftotext', 'pdfinfo', 'pdffonts', 'qpdf'];

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
