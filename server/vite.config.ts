import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const root = resolve(import.meta.dirname, '..');

/** The server as one file. Two packages stay outside: a native module, and a logger that starts files of its own. */
export default defineConfig({
  root,
  publicDir: false,
  ssr: { noExternal: true, external: ['better-sqlite3', 'pino'] },
  build: {
    ssr: resolve(root, 'server/start-node.ts'),
    outDir: resolve(root, '.build/server'),
    emptyOutDir: true,
    target: 'node20',
    sourcemap: true,
  },
  logLevel: 'warn',
});
