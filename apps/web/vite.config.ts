import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { buildWorker } from './buildWorker.ts';

/** `npm run dev` hands /api to a server that is already running; say where with SILLWATCH_API. */
const api = process.env['SILLWATCH_API'] ?? 'http://127.0.0.1:4180';

export default defineConfig({
  plugins: [react(), buildWorker()],
  // light-dark() and :has() are used as they stand: browsers of 2024 and later.
  build: {
    target: ['chrome123', 'firefox121', 'safari17.5'],
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
  },
  server: { proxy: { '/api': api, '/openapi.json': api } },
});
