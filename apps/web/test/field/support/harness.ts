import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { build } from 'vite';
import { buildWorker } from '../../../buildWorker.ts';

/** Builds the whole app, as it is shipped, into a folder of its own: others may be building theirs. */
export async function buildApp(): Promise<{ readonly folder: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'sillwatch-app-'));
  await asProduction(() =>
    build({
      root: fileURLToPath(new URL('../../../', import.meta.url)),
      configFile: fileURLToPath(new URL('../../../vite.config.ts', import.meta.url)),
      logLevel: 'error',
      build: { outDir: folder, emptyOutDir: true },
    }),
  );
  return { folder, remove: () => rm(folder, { recursive: true, force: true }) };
}

/** The test runner's own mode would bring the libraries' development builds. */
async function asProduction(work: () => Promise<unknown>): Promise<void> {
  const mode = process.env['NODE_ENV'];
  process.env['NODE_ENV'] = 'production';
  try {
    await work();
  } finally {
    process.env['NODE_ENV'] = mode;
  }
}

/** Builds the store, the engine and the service worker without screens; answers with the folder to serve. */
export async function buildHarness(): Promise<{ readonly folder: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'sillwatch-harness-'));
  await buildHarnessInto(folder, 'first');
  return { folder, remove: () => rm(folder, { recursive: true, force: true }) };
}

/** A later version over an earlier one, as an update of the server brings it. */
export async function buildHarnessInto(folder: string, version: string): Promise<void> {
  await asProduction(() =>
    build({
      configFile: false,
      root: fileURLToPath(new URL('../harness', import.meta.url)),
      publicDir: fileURLToPath(new URL('../../../public', import.meta.url)),
      logLevel: 'error',
      plugins: [react(), buildWorker()],
      define: { __HARNESS_VERSION__: JSON.stringify(version) },
      build: { outDir: folder, emptyOutDir: true, assetsInlineLimit: 0, target: 'chrome123' },
    }),
  );
}
