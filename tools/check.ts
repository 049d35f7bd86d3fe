/** `npm run check`: types, lint, walls and the unit tests of the pure rooms, side by side, in under half a minute. */
import { spawn } from 'node:child_process';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '..');
const bin = (name: string): string => join(root, 'node_modules', '.bin', name);

const started = performance.now();
const jobs = [
  run('types', bin('tsc'), ['-p', 'packages/tsconfig.json']),
  run('types', bin('tsc'), ['-p', 'tsconfig.json']),
  run('types', bin('tsc'), ['-p', 'apps/web/tsconfig.json']),
  run('types', bin('tsc'), ['-p', 'apps/web/src/field/worker/tsconfig.json']),
  run('lint', bin('biome'), ['check', '--error-on-warnings', '.']),
  run('walls and unit tests', bin('vitest'), ['run', '--project', 'pure', '--reporter=dot']),
];
const failed = (await Promise.all(jobs)).filter((ok) => !ok).length;
console.log(
  `check: ${jobs.length - failed} passed, ${failed} failed, ${((performance.now() - started) / 1000).toFixed(1)} s`,
);
process.exitCode = failed === 0 ? 0 : 1;

function run(name: string, file: string, args: readonly string[]): Promise<boolean> {
  return new Promise((done) => {
    const child = spawn(file, args, { cwd: root, env: { ...process.env, NO_COLOR: '1' } });
    let output = '';
    child.stdout.on('data', (chunk) => {
      output += String(chunk);
    });
    child.stderr.on('data', (chunk) => {
      output += String(chunk);
    });
    child.on('error', (error) => {
      console.error(`${name}: ${error.message}`);
      done(false);
    });
    child.on('close', (status) => {
      if (status !== 0) console.error(`${name} (${args.join(' ')}) failed:\n${output.slice(-8000)}`);
      done(status === 0);
    });
  });
}
