import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { DeviceStore } from '../../client/worker/case-store.ts';
import type { CaseStore } from '../../server/cases/store.ts';
import { answer, record, storeContract } from '../server/stores/contract.ts';
import { STORED_FLAT } from '../server/stores/stored-flat.ts';
import { launch, open } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

/** The store as the worker has it, made in a page of its own in a browser: each call goes there and its answer comes back. */
async function inBrowser(
  name: string,
  before?: (page: Page) => Promise<unknown>,
): Promise<{ page: Page; store: DeviceStore; make: () => Promise<unknown> }> {
  const { page } = await open(browser);
  await before?.(page);
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

/** The tables as the worker made them then, with the rows it wrote: what they hold is what the case file held. */
const tablesOfThen = (page: Page) =>
  page.evaluate(async (cases) => {
    const db = await new Promise<IDBDatabase>((done) => {
      const opening = indexedDB.open('then', 1);
      opening.onupgradeneeded = () => {
        const made = opening.result;
        made.createObjectStore('cases', { keyPath: 'id' });
        made.createObjectStore('turns', { keyPath: ['id', 'rev'] }).createIndex('key', ['id', 'key'], { unique: true });
        made.createObjectStore('waiting', { keyPath: 'n', autoIncrement: true }).createIndex('id', 'id');
        made.createObjectStore('conflicts', { keyPath: 'id' });
      };
      opening.onsuccess = () => done(opening.result);
    });
    const tx = db.transaction(['cases', 'turns', 'waiting'], 'readwrite');
    for (const { id, opened, audience, turns } of cases) {
      tx.objectStore('cases').add({ id, opened, audience });
      let lastSeq = 0;
      for (const { rev, settings, key, asked, bodies } of turns) {
        lastSeq = bodies.at(-1)?.seq ?? lastSeq;
        const answers = bodies.map((body) => ({ seq: body.seq, body: JSON.stringify(body) }));
        const row = { id, rev, settings: JSON.stringify(settings), answers, lastSeq, ...(key !== undefined && { key, asked }) };
        tx.objectStore('turns').add(row);
      }
    }
    tx.objectStore('waiting').add({ id: cases[0]!.id, method: 'POST', path: '/', body: {}, unsent: { lines: [] } });
    await new Promise((done) => {
      tx.oncomplete = done;
    });
    // The page of then still holds them open, and gives way as its worker did.
    db.onversionchange = () => db.close();
  }, STORED_FLAT);

test('cases kept on the device before answers had several shapes are read, turn by turn, and what waits still waits', async () => {
  const { page, store } = await inBrowser('then', tablesOfThen);
  for (const { id, turns } of STORED_FLAT) {
    const told = (await store.history(id))!;
    expect(told.turns.map(({ rev, key, answers }) => [rev, key, answers.map((a) => a.seq)])).toEqual(
      turns.map(({ rev, key, bodies }) => [rev, key, bodies.map((b) => b.seq)]),
    );
    const bodies = turns.flatMap((t) => t.bodies);
    expect((await store.get(id))!.answers.map(({ said }) => said)).toEqual(bodies.map(({ said }) => said));
  }
  expect(await store.waiting()).toHaveLength(1);
  await page.context().close();
});
