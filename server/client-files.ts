import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { Hono } from 'hono';
import { compress } from 'hono/compress';
import { etag } from 'hono/etag';
import { notBuiltPage } from './routes/pages.ts';

const KEPT: Record<string, string> = { assets: 'public, max-age=31536000, immutable', fonts: 'public, max-age=604800' };

/**
 * The built page. Files under /assets carry a hash in their name and never change; letters keep their names and all but never change;
 * all others are asked for anew.
 */
export function clientFiles(folder: string) {
  const files = new Hono();
  if (!existsSync(join(folder, 'index.html'))) return files.get('/', (c) => c.html(notBuiltPage(), 503));
  files.get('*', etag(), compress(), async (c, next) => {
    await next();
    if (c.res.ok) c.header('cache-control', KEPT[c.req.path.split('/')[1]!] ?? 'no-cache');
  });
  return files.get('*', serveStatic({ root: folder }));
}
