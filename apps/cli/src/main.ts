import { randomBytes } from 'node:crypto';
import { CommandError, EXIT, type Io } from './io.ts';
import { buildProgram } from './program.ts';

const io: Io = {
  out: (text) => {
    process.stdout.write(text);
  },
  err: (text) => {
    process.stderr.write(text);
  },
  isTerminal: process.stderr.isTTY === true,
  now: () => Date.now(),
  random: (count) => new Uint8Array(randomBytes(count)),
  env: process.env,
};

// A reader that closes the pipe early (`| head`) is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exit(error.code === 'EPIPE' ? EXIT.ok : EXIT.found);
});

try {
  process.exitCode = await buildProgram(io).run(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof CommandError)) throw error;
  io.err(`sillwatch: ${error.message}\n${error.remedy === '' ? '' : `${error.remedy}\n`}`);
  process.exitCode = error.code;
}
