import { type ChildProcess, spawn } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const ROOT = fileURLToPath(new URL('../../../../', import.meta.url));
const STARTS_WITHIN_MS = 120_000;

export interface Running {
  readonly url: string;
  stop(): Promise<void>;
}

const WEB = join(ROOT, 'apps/web');
const SOURCES = [
  join(WEB, 'src'),
  join(WEB, 'index.html'),
  join(WEB, 'vite.config.ts'),
  join(WEB, 'buildWorker.ts'),
  join(WEB, 'public'),
  ...['trade', 'ring', 'figures', 'rounds'].map((room) => join(ROOT, 'packages', room, 'src')),
];

/** Builds the screens into the folder that the server serves, unless what is there is newer than every source. */
export async function buildScreens(): Promise<void> {
  const release = await takeLock(join(tmpdir(), 'sillwatch-web-build'));
  try {
    const built = await stat(join(WEB, 'dist/index.html')).catch(() => undefined);
    if (built !== undefined && built.mtimeMs > Math.max(...(await Promise.all(SOURCES.map(newestIn)))))
      return;
    const mode = process.env['NODE_ENV'];
    // The test runner's own mode would bring the libraries' development builds.
    process.env['NODE_ENV'] = 'production';
    await build({ root: WEB, logLevel: 'error' });
    process.env['NODE_ENV'] = mode;
  } finally {
    await release();
  }
}

/** Test files run side by side; one builds, the others wait. A lock of a run that died is broken after two minutes. */
async function takeLock(folder: string): Promise<() => Promise<void>> {
  for (;;) {
    try {
      await mkdir(folder);
      return () => rm(folder, { recursive: true, force: true });
    } catch {
      const held = await stat(folder).catch(() => undefined);
      if (held !== undefined && Date.now() - held.mtimeMs > 120_000)
        await rm(folder, { recursive: true, force: true });
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }
}

async function newestIn(path: string): Promise<number> {
  const own = await stat(path);
  if (!own.isDirectory()) return own.mtimeMs;
  const entries = await readdir(path);
  return Math.max(0, ...(await Promise.all(entries.map((entry) => newestIn(join(path, entry))))));
}

/** Starts the real command on a free port with an empty folder of its own, and waits until it says where it answers. */
export async function startSillwatch(...words: readonly string[]): Promise<Running> {
  const data = await mkdtemp(join(tmpdir(), 'sillwatch-web-'));
  const child = spawn(
    process.execPath,
    ['apps/cli/src/main.ts', ...words, '--port', String(await freePort()), '--data', data],
    { cwd: ROOT, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  try {
    const url = await addressOf(child);
    return {
      url,
      async stop() {
        await ended(child);
        await rm(data, { recursive: true, force: true });
      },
    };
  } catch (error) {
    await ended(child);
    await rm(data, { recursive: true, force: true });
    throw error;
  }
}

/** A browser refuses some ports by name (WHATWG fetch, port blocking); none of them lies above 10,080. */
async function freePort(): Promise<number> {
  const { createServer } = await import('node:net');
  for (;;) {
    const port = await new Promise<number>((resolve, reject) => {
      const probe = createServer();
      probe.once('error', reject);
      probe.listen(0, '127.0.0.1', () => {
        const address = probe.address();
        probe.close(() => resolve(typeof address === 'object' && address !== null ? address.port : 0));
      });
    });
    if (port > 10_080) return port;
  }
}

function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    const timer = setTimeout(
      () => reject(new Error(`no address after ${STARTS_WITHIN_MS} ms:\n${said}`)),
      STARTS_WITHIN_MS,
    );
    const listen = (chunk: Buffer) => {
      said += chunk.toString();
      const url = /(?:is|answers) at (http:\/\/[\d.a-z]+:\d+)/.exec(said)?.[1];
      if (url === undefined) return;
      clearTimeout(timer);
      resolve(url);
    };
    child.stdout?.on('data', listen);
    child.stderr?.on('data', listen);
    child.once('exit', (code) => {
      clearTimeout(timer);
      reject(new Error(`ended with ${code} before it answered:\n${said}`));
    });
  });
}

function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    child.once('exit', () => resolve());
    child.kill('SIGTERM');
    setTimeout(() => child.kill('SIGKILL'), 15_000).unref();
  });
}
