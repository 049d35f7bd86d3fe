/** `npm test`: everything that CI does, ended by a line `N passed, N failed`. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '..');
const bin = (name: string): string => join(root, 'node_modules', '.bin', name);

interface Outcome {
  readonly name: string;
  readonly passed: number;
  readonly failed: number;
  readonly seconds: number;
}

const outcomes: Outcome[] = [
  runGate('types: pure rooms', 'tsc', ['-p', 'packages/tsconfig.json']),
  runGate('types: effects', 'tsc', ['-p', 'tsconfig.json']),
  runGate('types: web', 'tsc', ['-p', 'apps/web/tsconfig.json']),
  runGate('types: service worker', 'tsc', ['-p', 'apps/web/src/field/worker/tsconfig.json']),
  runGate('lint and format', 'biome', ['check', '--error-on-warnings', '.']),
  ...['pure', 'proofs', 'effects', 'browser'].map(runProject),
];

for (const { name, passed, failed, seconds } of outcomes) {
  console.log(
    `${failed === 0 ? 'ok  ' : 'FAIL'} ${name}: ${passed} passed, ${failed} failed, ${seconds.toFixed(0)} s`,
  );
}
const passed = outcomes.reduce((sum, outcome) => sum + outcome.passed, 0);
const failed = outcomes.reduce((sum, outcome) => sum + outcome.failed, 0);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;

function runGate(name: string, command: string, args: readonly string[]): Outcome {
  const started = performance.now();
  const { status } = spawnSync(bin(command), args, { cwd: root, stdio: 'inherit' });
  return {
    name,
    passed: status === 0 ? 1 : 0,
    failed: status === 0 ? 0 : 1,
    seconds: (performance.now() - started) / 1000,
  };
}

/** One Vitest project; a crash, an unreadable report or a project without tests counts as a failure. */
function runProject(project: string): Outcome {
  const started = performance.now();
  const folder = mkdtempSync(join(tmpdir(), 'sillwatch-test-'));
  const report = join(folder, 'report.json');
  const { status } = spawnSync(
    bin('node'),
    [
      join(root, 'node_modules/vitest/vitest.mjs'),
      'run',
      '--project',
      project,
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${report}`,
    ],
    { cwd: root, stdio: 'inherit' },
  );
  const counts = readCounts(report);
  rmSync(folder, { recursive: true, force: true });
  const broken = status !== 0 && counts.failed === 0;
  const empty = counts.passed + counts.failed === 0;
  return {
    name: `tests: ${project}`,
    passed: counts.passed,
    failed: counts.failed + (broken || empty ? 1 : 0),
    seconds: (performance.now() - started) / 1000,
  };
}

function readCounts(report: string): { readonly passed: number; readonly failed: number } {
  try {
    const parsed: unknown = JSON.parse(readFileSync(report, 'utf8'));
    if (typeof parsed !== 'object' || parsed === null) return { passed: 0, failed: 0 };
    const passed = 'numPassedTests' in parsed ? Number(parsed.numPassedTests) : 0;
    const failed = 'numFailedTests' in parsed ? Number(parsed.numFailedTests) : 0;
    const suites = 'numFailedTestSuites' in parsed ? Number(parsed.numFailedTestSuites) : 0;
    return { passed, failed: Math.max(failed, suites > 0 ? Math.max(failed, 1) : 0) };
  } catch {
    return { passed: 0, failed: 0 };
  }
}
