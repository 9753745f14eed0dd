import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const page = resolve(import.meta.dirname, '../.build/client');
if (!existsSync(resolve(page, 'index.html'))) throw new Error('Build the page first: the worker keeps its files.');
const within = (folder: string) => readdirSync(resolve(page, folder)).map((file) => `/${folder}/${file}`);
const fonts = within('fonts').filter((file) => file.endsWith('.woff2'));
const assets = [...within('assets'), ...fonts];
// A page that differs in one letter is another version: its cache replaces the old one. Fonts keep their names, so they are read.
const hash = createHash('sha256').update(assets.join());
for (const file of ['/index.html', ...fonts]) hash.update(readFileSync(resolve(page, `.${file}`)));
const version = hash.digest('hex').slice(0, 12);

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
