import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { build } from 'vite';
import { buildWorker } from '../../../buildWorker.ts';

/** Builds the store, the engine and the service worker without screens; answers with the folder to serve. */
export async function buildHarness(): Promise<{ readonly folder: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'sillwatch-harness-'));
  const mode = process.env['NODE_ENV'];
  process.env['NODE_ENV'] = 'production';
  await build({
    configFile: false,
    root: fileURLToPath(new URL('../harness', import.meta.url)),
    publicDir: fileURLToPath(new URL('../../../public', import.meta.url)),
    logLevel: 'error',
    plugins: [react(), buildWorker()],
    build: { outDir: folder, emptyOutDir: true, assetsInlineLimit: 0, target: 'chrome123' },
  });
  process.env['NODE_ENV'] = mode;
  return { folder, remove: () => rm(folder, { recursive: true, force: true }) };
}
