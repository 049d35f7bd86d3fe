// Plain JavaScript that any Node from 18 on can run: brings a fresh clone to the point where `npm start` and
// `npm test` work, then hands over to the pinned Node with TypeScript.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const bin = join(root, 'node_modules', '.bin');
const [command = 'start', ...rest] = process.argv.slice(2);

const run = (file, args, options = {}) => {
  const env = { ...process.env, PATH: `${bin}${delimiter}${process.env.PATH ?? ''}`, ...options.env };
  const { status, error } = spawnSync(file, args, { cwd: root, stdio: 'inherit', ...options, env });
  if (error) console.error(`${file}: ${error.message}`);
  return status ?? 1;
};
const must = (what, status) => {
  if (status === 0) return;
  console.error(
    `sillwatch: ${what} failed (exit ${status}). Mend what is named above and run the command again.`,
  );
  process.exit(status);
};

installPackages();
if (command === 'start') {
  buildWeb();
  process.exit(run('node', ['apps/cli/src/main.ts', 'demo', ...rest]));
} else if (command === 'test') {
  installSystemPackages();
  buildWeb();
  process.exit(run('node', ['tools/testAll.ts', ...rest]));
} else {
  console.error(`bootstrap: unknown command ${JSON.stringify(command)}; use start or test`);
  process.exit(2);
}

function installPackages() {
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  const stamp = join(root, 'node_modules', '.sillwatch-lock');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock && existsSync(join(bin, 'node'))) return;
  console.error('sillwatch: installing packages (once; about half a minute)');
  must('npm ci', run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error']));
  writeFileSync(stamp, lock);
}

/** What the tests drive for real: Chromium, PostgreSQL, poppler and qpdf, R with survival, LibreOffice's sheets. Debian as root only; elsewhere it says what is missing. */
function installSystemPackages() {
  const wanted = [
    ['chromium', () => existsSync('/usr/bin/chromium')],
    ['postgresql', () => existsSync('/usr/lib/postgresql')],
    ['poppler-utils', () => existsSync('/usr/bin/pdftotext')],
    ['qpdf', () => existsSync('/usr/bin/qpdf')],
    ['r-base-core', () => existsSync('/usr/bin/Rscript')],
    [
      'r-cran-survival',
      () => existsSync('/usr/lib/R/library/survival') || existsSync('/usr/lib/R/site-library/survival'),
    ],
    ['libreoffice-calc-nogui', () => existsSync('/usr/bin/soffice')],
  ];
  const missing = wanted.filter(([, isThere]) => !isThere()).map(([name]) => name);
  if (missing.length === 0) return;
  const canInstall = existsSync('/usr/bin/apt-get') && process.getuid?.() === 0;
  if (!canInstall) {
    console.error(
      `sillwatch: not installed: ${missing.join(', ')}. Tests that need them say so and are left out.`,
    );
    return;
  }
  console.error(`sillwatch: installing ${missing.join(', ')}`);
  const env = { DEBIAN_FRONTEND: 'noninteractive' };
  must('apt-get update', run('apt-get', ['update', '-qq'], { env }));
  must(
    'apt-get install',
    run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...missing], { env }),
  );
}

function buildWeb() {
  const built = join(root, 'apps', 'web', 'dist', 'index.html');
  const stampFile = join(root, 'apps', 'web', 'dist', '.built-from');
  const head = sourceStamp();
  if (existsSync(built) && existsSync(stampFile) && readFileSync(stampFile, 'utf8') === head) return;
  console.error('sillwatch: building the web app');
  must('the web build', run('npm', ['run', 'build', '-w', 'apps/web', '--silent']));
  writeFileSync(stampFile, head);
}

/** Changes whenever a file that the web app is built from changes (git's own view of the tree, plus what is not committed). */
function sourceStamp() {
  const paths = ['apps/web', 'packages', 'package-lock.json'];
  const git = (args) => spawnSync('git', args, { cwd: root, encoding: 'utf8' }).stdout ?? '';
  return createHash('sha256')
    .update(git(['rev-parse', 'HEAD']))
    .update(git(['status', '--porcelain', '--', ...paths]))
    .update(git(['diff', 'HEAD', '--', ...paths]))
    .digest('hex');
}
