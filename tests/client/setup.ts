import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { start } from '../server/load/built-server.ts';
import { buildAll, SERVER } from './build-all.ts';
import { type FoundBrowser, findBrowser } from './find-browser.ts';

/** Once for the whole run: everything built anew, a browser found, and the built server on a free port with a case file of its own. */
export default async function setup(project: TestProject) {
  const browser = await findBrowser();
  await buildAll();
  const data = mkdtempSync(join(tmpdir(), 'cold-drum-page-'));
  const { child, address, ended } = await start(SERVER, { COLD_DRUM_DATA: data, LOG_LEVEL: 'warn' });
  project.provide('browser', browser);
  project.provide('url', address);
  return async () => {
    child.kill('SIGTERM');
    await ended;
    rmSync(data, { recursive: true, force: true });
  };
}

declare module 'vitest' {
  export interface ProvidedContext {
    browser: FoundBrowser;
    url: string;
  }
}
