import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { stripTypeScriptTypes } from 'node:module';
import { join } from 'node:path';
import type { Plugin, Rolldown } from 'vite';

type Bundle = Rolldown.OutputBundle;

const SOURCE = new URL('./src/field/worker/sw.ts', import.meta.url);

/**
 * Writes `sw.js` beside the built app: the service worker with the list of what the yard needs and the hash of each file.
 * Its text changes when, and only when, a file in the list does; that is how a browser learns of a new version.
 */
export function buildWorker(): Plugin {
  let publicFolder = '';
  return {
    name: 'sillwatch-worker',
    apply: 'build',
    configResolved(config) {
      publicFolder = config.publicDir;
    },
    writeBundle({ dir }, bundle) {
      if (dir === undefined) throw new Error('the build names no folder to write to');
      const files = [...yardFiles(bundle), ...readdirSync(publicFolder)].toSorted();
      const list = files.map((file) => [`/${file}`, hashOf(readFileSync(join(dir, file)))]);
      const text = JSON.stringify(list);
      writeFileSync(join(dir, 'sw.js'), workerText(text, hashOf(text)));
    },
  };
}

/** Sixteen bytes of SHA-256, as the worker computes it. */
function hashOf(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex').slice(0, 32);
}

function workerText(list: string, version: string): string {
  const script = stripTypeScriptTypes(readFileSync(SOURCE, 'utf8')).replace(/^export \{\};$/m, '');
  const filled = script.replace('__PRECACHE__', list).replace('__VERSION__', JSON.stringify(version));
  if (/__[A-Z]+__|^\s*(import|export)\b/m.test(filled))
    throw new Error('sw.ts has a word that the build did not fill in, or imports something');
  return filled;
}

/** Everything but the scripts that only the desk loads later: the page, what it starts with, the yard, its words, and all that is no script. */
function yardFiles(bundle: Bundle): ReadonlySet<string> {
  const files = new Set<string>();
  const take = (file: string): void => {
    const chunk = bundle[file];
    if (chunk?.type !== 'chunk') return;
    const isNew = !files.has(file);
    files.add(file);
    for (const next of chunk.imports) if (isNew) take(next);
    for (const next of chunk.dynamicImports) {
      const later = bundle[next];
      const isDesks = later?.type === 'chunk' && (later.facadeModuleId ?? '').includes('/src/desk/');
      if (!isDesks && !files.has(next)) take(next);
    }
  };
  for (const [file, one] of Object.entries(bundle)) {
    if (one.type === 'asset') files.add(file);
    else if (one.isEntry) take(file);
  }
  return files;
}
