import { spawnSync } from 'node:child_process';

/** Where R is absent these checks say so and are left out; `tools/bootstrap.mjs` brings it on Debian (r-base-core, r-cran-survival). */
export function isRHere(): boolean {
  const { status } = spawnSync('Rscript', ['-e', 'library(survival)'], { encoding: 'utf8' });
  return status === 0;
}

/** Runs a script, `input` on its standard input; each line that it prints as `name: numbers` becomes an entry. */
export function runR(script: string, input = ''): ReadonlyMap<string, readonly number[]> {
  const { status, stdout, stderr } = spawnSync('Rscript', ['-e', `${HELPERS}\n${script}`], {
    encoding: 'utf8',
    input,
    maxBuffer: 1 << 28,
  });
  if (status !== 0) throw new Error(`Rscript failed: ${stderr}`);
  const found = new Map<string, readonly number[]>();
  for (const line of stdout.split('\n')) {
    const match = /^(\S+): (.*)$/.exec(line);
    if (match?.[1] !== undefined && match[2] !== undefined)
      found.set(
        match[1],
        match[2].split(' ').map((text) => (text === 'NA' || text === 'NaN' ? Number.NaN : Number(text))),
      );
  }
  return found;
}

const HELPERS = `
suppressMessages(library(survival))
say <- function(name, x) cat(name, ": ", paste(format(as.numeric(x), digits = 15, trim = TRUE, scientific = TRUE), collapse = " "), "\\n", sep = "")
`;
