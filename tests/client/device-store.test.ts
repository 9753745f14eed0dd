import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { DeviceStore } from '../../client/worker/case-store.ts';
import type { CaseStore } from '../../server/cases/store.ts';
import { answer, record, storeContract } from '../server/stores/contract.ts';
import { launch, open } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

/** The store as the worker has it, made in a page of its own in a browser: each call goes there and its answer comes back. */
async function inBrowser(name: string): Promise<{ page: Page; store: DeviceStore; make: () => Promise<unknown> }> {
  const { page } = await open(browser);
  const lib = { entry: resolve('client/worker/case-store.ts'), formats: ['iife' as const], name: 'made' };
  const built = [await build({ configFile: false, logLevel: 'error', build: { write: false, lib } })].flat()[0];
  if (!built || !('output' in built)) throw new Error('nothing was built');
  const make = () => page.evaluate(`${built.output[0].code}; globalThis.store = made.deviceStore(${JSON.stringify(name)});`);
  await make();
  const call = (method: string, args: unknown[]) =>
    page.evaluate(
      ([method, args]) => {
        const { store } = globalThis as unknown as { store: Record<string, (...args: unknown[]) => Promise<unknown>> };
        return store[method]!(...args);
      },
      [method, args] as [string, unknown[]],
    );
  const store = new Proxy({} as DeviceStore, {
    get: (_, method: string) => (method === 'then' ? undefined : (...args: unknown[]) => call(method, args)),
  });
  return { page, store, make };
}

let makeAgain: () => Promise<unknown>;
storeContract(
  'in the IndexedDB of a browser',
  async () => {
    const { page, store, make } = await inBrowser('contract');
    makeAgain = make;
    return {
      ...(Object.fromEntries(
        (['create', 'get', 'append', 'turn', 'history'] as const).map((name) => [name, store[name].bind(store)]),
      ) as unknown as CaseStore),
      close: () => page.context().close(),
    };
  },
  async (store) => {
    await makeAgain();
    return store;
  },
);

describe('what a device keeps beside its cases', () => {
  test('a copy of the server’s case is that case, whole or from a revision on', async () => {
    const { page, store } = await inBrowser('copies');
    await store.create(record('one'));
    await store.append('one', 1, { answers: [answer(2)], settings: { units: 'metric' }, turn: { key: 'k', asked: 'a' } });
    const told = (await store.history('one'))!;
    await store.copy({ ...told, id: 'two' }, true);
    expect(await store.history('two')).toEqual({ ...told, id: 'two' });
    expect(await store.append('two', 2, { answers: [answer(3)], settings: {} })).toBe(3);
    // What is told anew replaces it whole; told after a revision it is added.
    await store.copy({ ...told, id: 'two' }, true);
    expect(await store.rev('two')).toBe(2);
    await store.copy({ ...told, id: 'two', turns: [{ rev: 3, settings: {}, answers: [answer(3)] }] }, false);
    expect((await store.get('two'))?.answers).toHaveLength(3);
    expect([await store.rev('two'), await store.rev('three')]).toEqual([3, 0]);
    await page.context().close();
  });

  test('what waits keeps its order; a conflict takes it away for a person to decide', async () => {
    const { page, store } = await inBrowser('waits');
    const entry = (id: string, text: string) => ({
      id,
      method: 'POST',
      path: `/api/cases/${id}/say`,
      body: { text },
      unsent: { lines: [], again: { text } },
    });
    for (const [id, text] of [
      ['a', 'first'],
      ['b', 'second'],
      ['a', 'third'],
    ] as const)
      await store.wait(entry(id, text));
    expect((await store.waiting()).map(({ body }) => (body as { text: string }).text)).toEqual(['first', 'second', 'third']);
    const [first] = await store.waiting('a');
    await store.sent(first!.n);
    expect((await store.waiting('a')).length).toBe(1);
    await store.conflict({ id: 'a', why: 'stale', unsent: [{ lines: [], again: { text: 'third' } }] });
    expect((await store.waiting()).map(({ id }) => id)).toEqual(['b']);
    await store.conflict({ id: 'a', why: 'stale', unsent: [{ lines: [] }] });
    expect((await store.conflicts()).map(({ unsent }) => unsent.length)).toEqual([2]);
    await store.settled('a');
    expect(await store.conflicts()).toEqual([]);
    await page.context().close();
  });
});
