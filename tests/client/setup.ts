import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { serve } from '@hono/node-server';
import { build } from 'vite';
import type { TestProject } from 'vitest/node';
import { createApp } from '../../server/app.ts';
import { memoryStore } from '../../server/cases/memory.ts';
import { clientFiles } from '../../server/client-files.ts';
import { newId } from '../../server/new-id.ts';
import { fakeConversation } from './fake-conversation.ts';
import { fakeDemos } from './fake-demos.ts';
import { type FoundBrowser, findBrowser } from './find-browser.ts';

const root = resolve(import.meta.dirname, '../..');

/** Once for the whole run: the page built anew, a browser found, and the app serving the page. */
export default async function setup(project: TestProject) {
  const browser = await findBrowser();
  await buildPage();
  const real = process.env.COLD_DRUM_REAL === '1';
  const { url, close } = real ? await startReal() : await startFake();
  project.provide('browser', browser);
  project.provide('url', url);
  project.provide('real', real);
  return close;
}

/** As `npm run build` makes it. The test run's own NODE_ENV would switch off what only a finished page does. */
async function buildPage(): Promise<void> {
  const before = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  try {
    await build({ configFile: join(root, 'client/vite.config.ts') });
    await build({ configFile: join(root, 'client/vite.worker.config.ts') });
  } finally {
    process.env.NODE_ENV = before;
  }
}

interface Started {
  url: string;
  close: () => Promise<void>;
}

function startFake(): Promise<Started> {
  const app = createApp({
    conversation: fakeConversation(),
    store: memoryStore(),
    demos: fakeDemos,
    now: () => new Date(),
    newId,
    log: { request: () => {}, unexpected: (error) => console.error(error) },
    clientKey: () => 'test',
    perMinute: 0,
    by: 'server',
  });
  app.route('/', clientFiles(join(root, '.build/client')));
  return new Promise((done) => {
    const server = serve({ fetch: app.fetch, hostname: '127.0.0.1', port: 0 }, ({ port }) =>
      done({
        url: `http://127.0.0.1:${port}`,
        close: () =>
          new Promise((closed) => {
            server.close(() => closed());
            if ('closeAllConnections' in server) server.closeAllConnections();
          }),
      }),
    );
  });
}

/** The built server as a person starts it, with a case file of its own. */
function startReal(): Promise<Started> {
  const data = mkdtempSync(join(tmpdir(), 'cold-drum-page-'));
  const child: ChildProcess = spawn(process.execPath, [join(root, '.build/server/start-node.js')], {
    env: { ...process.env, PORT: '0', COLD_DRUM_DATA: data, COLD_DRUM_RATE: '0', LOG_LEVEL: 'warn' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const close = () =>
    new Promise<void>((closed) => {
      child.once('exit', () => {
        rmSync(data, { recursive: true, force: true });
        closed();
      });
      child.kill('SIGTERM');
    });
  return new Promise((done, failed) => {
    child.once('exit', (code) => failed(new Error(`The server ended with ${code} before it was ready: run npm run build first`)));
    child.stdout?.on('data', (chunk) => {
      const url = /http:\/\/\S+/.exec(String(chunk))?.[0];
      if (url) done({ url, close });
    });
  });
}

declare module 'vitest' {
  export interface ProvidedContext {
    browser: FoundBrowser;
    url: string;
    real: boolean;
  }
}
