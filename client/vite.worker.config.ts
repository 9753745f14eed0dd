import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const page = resolve(import.meta.dirname, '../.build/client');
if (!existsSync(resolve(page, 'index.html'))) throw new Error('Build the page first: the worker keeps its files.');
const assets = readdirSync(resolve(page, 'assets')).map((file) => `/assets/${file}`);
// A page that differs in one letter is another version: its cache replaces the old one.
const version = createHash('sha256')
  .update(assets.join())
  .update(readFileSync(resolve(page, 'index.html')))
  .digest('hex')
  .slice(0, 12);

/** The offline worker, beside the page it serves. One classic script, since not every browser takes module workers. */
export default defineConfig({
  root: import.meta.dirname,
  publicDir: false,
  define: { __ASSETS__: JSON.stringify(assets), __VERSION__: JSON.stringify(version) },
  build: {
    outDir: page,
    emptyOutDir: false,
    target: 'es2022',
    // All knowledge and all words: fetched once, after the page is there.
    chunkSizeWarningLimit: 4000,
    rolldownOptions: {
      input: resolve(import.meta.dirname, 'worker/sw.ts'),
      output: { format: 'iife', entryFileNames: 'sw.js' },
    },
  },
  logLevel: 'warn',
});
