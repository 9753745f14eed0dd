import { join, resolve } from 'node:path';
import { type ServerType, serve } from '@hono/node-server';
import { getConnInfo } from '@hono/node-server/conninfo';
import { pino } from 'pino';
import { createApp } from './app.ts';
import { sqliteStore } from './cases/sqlite.ts';
import { UnusableFile } from './cases/sqlite-file.ts';
import type { CaseStore } from './cases/store.ts';
import { clientFiles } from './client-files.ts';
import type { Conversation } from './conversation-port.ts';
import type { Demos } from './deps.ts';
import { newId } from './new-id.ts';
import { BadSetting, readSettings } from './settings.ts';

/** Longest a request under way is waited for, and longest until the end altogether. */
const GRACE_MS = 1500;
const PATIENCE_MS = 5000;

export interface ServeOptions {
  conversation: Conversation;
  demos: Demos;
  env: Record<string, string | undefined>;
  /** The project's folder: data/ and .build/client lie in it. */
  home: string;
}

/**
 * The app in a Node process: settings, case file, log, page files, port, and an orderly end. What the person at the
 * terminal can put right ends in one sentence and exit code 1, with no stack.
 */
export async function serveNode({ conversation, demos, env, home }: ServeOptions): Promise<void> {
  let store: CaseStore | undefined;
  try {
    const settings = readSettings(env, home);
    store = await sqliteStore(resolve(join(settings.data, 'cold-drum.sqlite')));
    const log = pino({ level: settings.logLevel });
    const app = createApp({
      conversation,
      store,
      demos,
      now: () => new Date(),
      newId,
      log: {
        request: (entry) => log.info(entry),
        unexpected: (err, where) => log.error({ err, ...where }, 'unexpected'),
      },
      clientKey: (c) => getConnInfo(c).remote.address ?? 'unknown',
      perMinute: settings.perMinute,
      by: 'server',
    });
    app.route('/', clientFiles(join(home, '.build/client')));
    const server = await listen(app.fetch, settings.host, settings.port);
    endInOrder(server, store);
    await conversation.warm(breath);
  } catch (e) {
    await store?.close();
    const sentence = e instanceof UnusableFile || e instanceof BadSetting ? e.message : whyNotListening(e);
    if (!sentence) throw e;
    console.error(sentence);
    process.exitCode = 1;
  }
}

/** Between two steps of work nobody waits for: requests go first, and an ending process is not held up. */
const breath = (): Promise<void> => new Promise((done) => void setTimeout(done, BREATH_MS).unref());
const BREATH_MS = 2;

function listen(fetch: Parameters<typeof serve>[0]['fetch'], hostname: string, port: number): Promise<ServerType> {
  return new Promise((done, failed) => {
    const server = serve({ fetch, hostname, port }, ({ address, family, port: taken }) => {
      const host = family === 'IPv6' ? `[${address}]` : address;
      console.log(`Cold Drum is ready: http://${host}:${taken}`);
      done(server);
    });
    server.once('error', (e) => failed(Object.assign(e, { hostname, port })));
  });
}

function whyNotListening(e: unknown): string | undefined {
  const { code, hostname, port } = e as { code?: string; hostname?: string; port?: number };
  const place = `${hostname}:${port}`;
  if (code === 'EADDRINUSE')
    return `Port ${port} is in use: another program answers at ${place}. Stop it, or choose a port: PORT=8081 npm start`;
  if (code === 'EACCES') return `Port ${port} may not be used by this user. Choose one above 1023: PORT=8080 npm start`;
  if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND')
    return `HOST is "${hostname}", which is no address of this computer. Use 127.0.0.1 or 0.0.0.0.`;
  return undefined;
}

/** Requests under way are finished, then the case file is closed. Asked again a second later, or waiting too long, it ends at once. */
function endInOrder(server: ServerType, store: CaseStore): void {
  let since: number | undefined;
  const end = () => {
    if (since !== undefined) {
      // Ctrl-C under npm reaches us twice: from the terminal and from npm.
      if (performance.now() - since > 1000) process.exit(1);
      return;
    }
    since = performance.now();
    setTimeout(() => process.exit(1), PATIENCE_MS).unref();
    server.close(async () => {
      await store.close();
      process.exit(0);
    });
    if (!('closeAllConnections' in server)) return;
    server.closeIdleConnections();
    // Browsers open connections ahead of need; one that never asked for anything does not count as idle.
    setTimeout(() => server.closeAllConnections(), GRACE_MS).unref();
  };
  process.on('SIGTERM', end);
  process.on('SIGINT', end);
}
