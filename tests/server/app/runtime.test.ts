import { resolve } from 'node:path';
import vm from 'node:vm';
import { build } from 'vite';
import { beforeAll, describe, expect, test } from 'vitest';

/** What a service worker has and the app may use. Not among them: process, Buffer, require, window, document, localStorage. */
const WEB = [
  'Request',
  'Response',
  'Headers',
  'URL',
  'URLSearchParams',
  'ReadableStream',
  'WritableStream',
  'TransformStream',
  'TextEncoder',
  'TextDecoder',
  'FormData',
  'Blob',
  'AbortController',
  'AbortSignal',
  'crypto',
  'atob',
  'btoa',
  'setTimeout',
  'clearTimeout',
  'console',
] as const;

describe('the app in a place with web standards only, where no text may be evaluated', () => {
  let code: string;
  beforeAll(async () => {
    const entry = resolve('tests/server/app/worker-entry.ts');
    const lib = { entry, formats: ['iife' as const], name: 'made' };
    const result = await build({
      configFile: false,
      logLevel: 'error',
      build: { write: false, minify: false, target: 'es2022', lib },
    });
    const [first] = [result].flat();
    if (!first || !('output' in first)) throw new Error('nothing was built');
    code = first.output[0].code;
  });

  test('holds a whole talk', async () => {
    const evaluated: string[] = [];
    const world = vm.createContext(
      { ...Object.fromEntries(WEB.map((name) => [name, globalThis[name]])) },
      { codeGeneration: { strings: false, wasm: false } },
    );
    vm.runInContext('globalThis.self = globalThis;', world);
    world.noted = evaluated;
    // The only way to see an attempt: zod and others swallow the error.
    vm.runInContext(
      'Function = new Proxy(Function, { construct(_, a) { noted.push(String(a)); throw new Error("no"); } });',
      world,
    );
    vm.runInContext(code, world);
    const { app } = vm.runInContext('made', world) as { app: { request(path: string, init?: RequestInit): Promise<Response> } };
    const send = async (path: string, body?: object) => {
      const init = body && { method: 'POST', body: JSON.stringify(body), headers: { 'content-type': 'application/json' } };
      const response = await app.request(`https://example.org${path}`, init);
      return [response.status, await response.text()] as const;
    };
    expect(await send('/api/health')).toEqual([200, JSON.stringify({ ok: true, by: 'worker', knowledge: 'little' })]);
    const [opened, text] = await send('/api/cases', { audience: 'agent' });
    expect(opened).toBe(201);
    const { id } = JSON.parse(text).case;
    expect((await send(`/api/cases/${id}/say`, { text: 'coil 9', turn: 'turn-0001' }))[0]).toBe(200);
    expect(await send(`/api/cases/${id}/sheet?as=page`)).toEqual([200, expect.stringContaining('coil_ohm')]);
    expect((await send('/api/cases/nobody'))[0]).toBe(404);
    expect((await send('/openapi.json'))[0]).toBe(200);
    expect(evaluated).toEqual([]);
  });
});
