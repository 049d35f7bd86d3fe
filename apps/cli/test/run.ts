import { readFileSync } from 'node:fs';
import { CommandError, type Io } from '../src/io.ts';
import { buildProgram } from '../src/program.ts';

const BEGIN = Date.parse('2026-11-25T12:00:00Z');
let calls = 0;

export interface Outcome {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** One call of the command line as a process would make it, with a clock and a terminal of the test's own. */
export async function run(
  args: readonly string[],
  { terminal = false, env = {} as Readonly<Record<string, string>> } = {},
): Promise<Outcome> {
  // A second goes by from call to call, so that no two make the same id.
  const now = BEGIN + calls * 1000;
  calls += 1;
  let out = '';
  let err = '';
  let count = 0;
  const io: Io = {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    isTerminal: terminal,
    now: () => now,
    random: (length) => Uint8Array.from({ length }, () => (count++ * 37) % 256),
    env,
  };
  try {
    return { code: await buildProgram(io).run(args), out, err };
  } catch (error) {
    if (!(error instanceof CommandError)) throw error;
    return { code: error.code, out, err: `${err}${error.message}\n${error.remedy}\n` };
  }
}

export const readText = (path: string): string => readFileSync(path, 'utf8');
