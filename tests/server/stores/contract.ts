import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Answer } from '../../../rules/types.ts';
import type { CaseStore } from '../../../server/cases/store.ts';
import type { CaseRecord } from '../../../server/types.ts';

export const answer = (seq: number): Answer => ({
  seq,
  turn: seq,
  act: 'tell',
  fact: 'coil_ohm',
  value: 9.8,
  unit: 'Ω',
  taken: { points: ['coil-1', 'coil-2'], lifted: true },
  said: `about 9.8, no: "<b>9,8</b>" Ω ${seq}`,
  by: 'technician',
});
export const record = (id: string, over: Partial<CaseRecord> = {}): CaseRecord => ({
  id,
  rev: 1,
  opened: '2026-01-02T03:04:05.000Z',
  audience: 'technician',
  settings: { units: 'us', machine: { plate: { total_w: 5600, volts: 240 } } },
  answers: [answer(1)],
  ...over,
});

/**
 * What a store no longer tells of a case once it is opened again: a turn, its settings, its key. Empty = it kept all.
 * @param again  the same place opened anew, as after the program ended
 */
export async function lostOnOpening(store: CaseStore, again: () => Promise<CaseStore>): Promise<string[]> {
  await store.create(record('kept'));
  await store.append('kept', 1, { answers: [answer(2)], settings: { units: 'metric' }, turn: { key: 'k', asked: 'a' } });
  await store.append('kept', 2, { answers: [answer(3)], settings: { audience: 'homeowner' } });
  const tell = async (from: CaseStore): Promise<Record<string, unknown>> => ({
    now: await from.get('kept'),
    before: await from.get('kept', 2),
    turn: await from.turn('kept', 'k'),
    history: await from.history('kept'),
    stale: await from.append('kept', 1, { answers: [], settings: {} }),
  });
  const told = await tell(store);
  const opened = await tell(await again());
  return Object.keys(told).filter((what) => JSON.stringify(told[what]) !== JSON.stringify(opened[what]));
}

/**
 * What every store must do, whatever it keeps cases in.
 * @param again  opens the place of this store anew, without what the program itself had kept of it
 */
export function storeContract(name: string, open: () => Promise<CaseStore>, again: (store: CaseStore) => Promise<CaseStore>) {
  describe(name, () => {
    let store: CaseStore;
    beforeAll(async () => {
      store = await open();
    });
    afterAll(() => store.close());

    test('gives back the very case it was given', async () => {
      await store.create(record('same'));
      expect(await store.get('same')).toEqual(record('same'));
    });

    test('a case nobody opened is not there, to read, to add to or to ask for a turn', async () => {
      expect(await store.get('nobody')).toBeUndefined();
      expect(await store.append('nobody', 1, { answers: [], settings: {} })).toBe('no-such-case');
      expect(await store.turn('nobody', 'key')).toBeUndefined();
    });

    test('an id is used once', async () => {
      await store.create(record('once'));
      await expect(store.create(record('once', { answers: [] }))).rejects.toThrow();
      expect(await store.get('once')).toEqual(record('once'));
    });

    test('a case may open without an answer', async () => {
      await store.create(record('empty', { answers: [] }));
      expect((await store.get('empty'))?.answers).toEqual([]);
    });

    test('adds turn on turn, in order, and the newest settings stand', async () => {
      await store.create(record('grows'));
      expect(await store.append('grows', 1, { answers: [answer(2), answer(3)], settings: { units: 'metric' } })).toBe(2);
      expect(await store.append('grows', 2, { answers: [answer(4)], settings: { audience: 'homeowner' } })).toBe(3);
      expect(await store.get('grows')).toEqual(
        record('grows', {
          rev: 3,
          audience: 'homeowner',
          settings: { audience: 'homeowner' },
          answers: [1, 2, 3, 4].map((n) => answer(n)),
        }),
      );
    });

    test('a case can be read as it stood at any revision', async () => {
      await store.create(record('past'));
      await store.append('past', 1, { answers: [answer(2)], settings: { units: 'metric' } });
      expect(await store.get('past', 1)).toEqual(record('past'));
      expect((await store.get('past', 2))?.answers).toHaveLength(2);
      expect(await store.get('past', 0)).toBeUndefined();
    });

    test.each([0, 2, 99, -1])('revision %d of a case at revision 1 is a conflict and adds nothing', async (rev) => {
      const id = `stale-${rev}`;
      await store.create(record(id));
      expect(await store.append(id, rev, { answers: [answer(2)], settings: {} })).toBe('conflict');
      expect(await store.get(id)).toEqual(record(id));
    });

    test('of many appends at once one wins and the others are conflicts', async () => {
      await store.create(record('race'));
      const one = () => store.append('race', 1, { answers: [answer(2)], settings: {} });
      const got = await Promise.all(Array.from({ length: 12 }, one));
      expect(got.filter((g) => g === 2)).toHaveLength(1);
      expect(got.filter((g) => g === 'conflict')).toHaveLength(11);
      expect((await store.get('race'))?.answers).toHaveLength(2);
    });

    test('appends at once to different cases all win', async () => {
      const ids = Array.from({ length: 8 }, (_, i) => `side-${i}`);
      await Promise.all(ids.map((id) => store.create(record(id))));
      const got = await Promise.all(ids.map((id) => store.append(id, 1, { answers: [answer(2)], settings: {} })));
      expect(got).toEqual(ids.map(() => 2));
    });

    test('a key names one turn of one case, with or without answers', async () => {
      await store.create(record('keyed'));
      await store.create(record('other'));
      expect(await store.append('keyed', 1, { answers: [], settings: {}, turn: { key: 'k', asked: 'a' } })).toBe(2);
      expect(await store.turn('keyed', 'k')).toEqual({ rev: 2, asked: 'a' });
      expect(await store.turn('keyed', 'l')).toBeUndefined();
      expect(await store.turn('other', 'k')).toBeUndefined();
      expect(await store.append('keyed', 2, { answers: [answer(2)], settings: {}, turn: { key: 'k', asked: 'b' } })).toBe(
        'conflict',
      );
      expect((await store.get('keyed'))?.rev).toBe(2);
      expect(await store.append('other', 1, { answers: [], settings: {}, turn: { key: 'k', asked: 'c' } })).toBe(2);
    });

    test('tells a case turn by turn, all of it or what came after a revision', async () => {
      await store.create(record('told'));
      await store.append('told', 1, { answers: [answer(2), answer(3)], settings: { units: 'metric' } });
      await store.append('told', 2, { answers: [], settings: { units: 'us' }, turn: { key: 'k', asked: 'a' } });
      const opening = { rev: 1, settings: record('told').settings, answers: [answer(1)] };
      const second = { rev: 2, settings: { units: 'metric' }, answers: [answer(2), answer(3)] };
      const third = { rev: 3, settings: { units: 'us' }, answers: [], key: 'k', asked: 'a' };
      const { id, opened, audience } = record('told');
      expect(await store.history('told')).toEqual({ id, opened, audience, turns: [opening, second, third] });
      expect((await store.history('told', 2))?.turns).toEqual([third]);
      expect((await store.history('told', 3))?.turns).toEqual([]);
      expect(await store.history('nobody-at-all')).toBeUndefined();
    });

    test('answers that are not numbered on are refused whole', async () => {
      await store.create(record('gap'));
      await expect(store.append('gap', 1, { answers: [answer(3)], settings: {} })).rejects.toThrow('numbered on');
      expect(await store.get('gap')).toEqual(record('gap'));
    });

    test('a case is there, turn by turn, once it is opened again', async () => {
      expect(
        await lostOnOpening(store, async () => {
          store = await again(store);
          return store;
        }),
      ).toEqual([]);
    });

    test('what was handed out or in cannot change what is stored', async () => {
      const given = record('mine');
      await store.create(given);
      given.answers[0]!.said = 'changed';
      (await store.get('mine'))!.answers.pop();
      expect(await store.get('mine')).toEqual(record('mine'));
    });
  });
}
