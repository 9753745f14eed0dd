import { resolve } from 'node:path';
import { build } from 'vite';

const root = resolve(import.meta.dirname, '../..');
export const SERVER = resolve(root, '.build/server/start-node.js');

/** Page, worker and server as `npm run build` makes them. A test run's own NODE_ENV would switch off what only a finished page does. */
export async function buildAll(): Promise<void> {
  const before = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  try {
    for (const config of ['client/vite.config.ts', 'client/vite.worker.config.ts', 'server/vite.config.ts'])
      await build({ configFile: resolve(root, config) });
  } finally {
    process.env.NODE_ENV = before;
  }
}
