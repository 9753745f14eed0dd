import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const api = 'http://127.0.0.1:8080';

/** The page. The manifest lists what the offline worker has to keep. */
export default defineConfig({
  root: import.meta.dirname,
  build: {
    outDir: resolve(import.meta.dirname, '../.build/client'),
    emptyOutDir: true,
    manifest: 'manifest.json',
    target: 'es2022',
    modulePreload: false,
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'hono/jsx/dom' } },
  server: { proxy: { '/api': api, '/openapi.json': api } },
  logLevel: 'warn',
});
