import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';
import { brotliCompressSync } from 'node:zlib';

const MEDIA_TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.jpg': 'image/jpeg',
  '.webp': 'image/webp',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.txt': 'text/plain; charset=utf-8',
};
const WORTH_PACKING = /^(text|image\/svg|application\/(json|manifest))/;

interface Asset {
  readonly bytes: Uint8Array;
  readonly packed: Uint8Array | undefined;
  readonly mediaType: string;
  /** Named by its content (`name-hash.ext` under assets/): may be kept for ever. */
  readonly isHashed: boolean;
}

export interface StaticSite {
  /** The file of this path; the application's page for any path that has no file and no extension. */
  respond(path: string, acceptsBrotli: boolean): Response | undefined;
}

/**
 * The built web application, read once at start: only what was there is ever served, so no path can climb out.
 * Without a build a page says how to make one.
 */
export function openStaticSite(folder: string): StaticSite {
  const assets = readAssets(folder);
  const page = assets.get('/index.html');
  return {
    respond(path, acceptsBrotli) {
      const asset = assets.get(path === '/' ? '/index.html' : path);
      if (asset !== undefined) return assetResponse(asset, acceptsBrotli);
      if (extname(path) !== '') return undefined;
      return page === undefined ? notBuilt() : assetResponse(page, acceptsBrotli);
    },
  };
}

function readAssets(folder: string): ReadonlyMap<string, Asset> {
  const assets = new Map<string, Asset>();
  if (!existsSync(folder)) return assets;
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const file = join(entry.parentPath, entry.name);
    const path = `/${relative(folder, file).split(sep).join('/')}`;
    const mediaType = MEDIA_TYPES[extname(entry.name)] ?? 'application/octet-stream';
    const bytes = new Uint8Array(readFileSync(file));
    const packed =
      WORTH_PACKING.test(mediaType) && bytes.length > 1024 ? brotliCompressSync(bytes) : undefined;
    assets.set(path, { bytes, packed, mediaType, isHashed: /^\/assets\/.+-[\w-]{8,}\.\w+$/.test(path) });
  }
  return assets;
}

function assetResponse(asset: Asset, acceptsBrotli: boolean): Response {
  const body = acceptsBrotli && asset.packed !== undefined ? asset.packed : asset.bytes;
  return new Response(Uint8Array.from(body), {
    headers: {
      'content-type': asset.mediaType,
      'cache-control': asset.isHashed ? 'public, max-age=31536000, immutable' : 'no-cache',
      vary: 'accept-encoding',
      ...(body === asset.packed ? { 'content-encoding': 'br' } : {}),
    },
  });
}

function notBuilt(): Response {
  return new Response(
    '<!doctype html><html lang="en"><meta charset="utf-8"><title>Sillwatch</title>' +
      '<h1>Sillwatch is running</h1><p>The screens have not been built on this machine. ' +
      'Run <code>npm run build -w apps/web</code>, then start again. The interface for programs is described at ' +
      '<a href="/openapi.json">/openapi.json</a>.</p></html>',
    { status: 200, headers: { 'content-type': 'text/html; charset=utf-8', 'cache-control': 'no-cache' } },
  );
}
