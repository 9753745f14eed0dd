import { describe, expect, test } from 'vitest';
import type { DeviceStore } from '../../client/worker/case-store.ts';
import { deviceAnswers } from '../../client/worker/device-answers.ts';
import type { Conflict, DeviceState, Waiting } from '../../client/worker/messages.ts';
import { unsentOf } from '../../client/worker/unsent-of.ts';
import type { CaseView } from '../../server/types.ts';

const view = (...said: string[]): CaseView => ({
  id: 'a',
  rev: said.length,
  audience: 'homeowner',
  families: [],
  units: 'us',
  machine: {},
  answers: said.map((text, at) => ({ seq: at + 1, turn: at + 1, label: 'Air', shown: text, said: text, act: 'tell' })),
});

describe('what a turn that was not sent did', () => {
  test('is the answers it left, and the words to enter it again', () =>
    expect(unsentOf({ text: 'cold' }, view('weak'), view('weak', 'cold'))).toEqual({
      lines: [{ label: 'Air', shown: 'cold', said: 'cold' }],
      again: { text: 'cold' },
    }));
  test('is what was said where it left no answer', () =>
    expect(unsentOf({ text: 'sing' }, view('weak'), view('weak')).lines).toEqual([{ label: '', shown: '', said: 'sing' }]));
  test('is nothing to enter again where something was taken back', () =>
    expect(unsentOf({}, view('weak'), view())).toEqual({ lines: [] }));
});

/** A device with a server that can be cut off, and a store of its own that counts what waits. */
function between(refuses: number[] = []) {
  const server = { there: true, asked: [] as string[] };
  const waiting: Waiting[] = [];
  const conflicts: Conflict[] = [];
  const told: DeviceState[] = [];
  const copied: string[] = [];
  const store = {
    waiting: async (id?: string) => waiting.filter((entry) => id === undefined || entry.id === id),
    wait: async (entry: Omit<Waiting, 'n'>) => void waiting.push({ ...entry, n: waiting.length + 1 }),
    sent: async (n: number) =>
      void waiting.splice(
        waiting.findIndex((entry) => entry.n === n),
        1,
      ),
    conflict: async (conflict: Conflict) => {
      conflicts.push(conflict);
      waiting.length = 0;
    },
    conflicts: async () => conflicts,
    rev: async () => 1,
    copy: async ({ id }: { id: string }) => void copied.push(id),
  } as Partial<DeviceStore> as DeviceStore;
  const here: string[] = [];
  const device = deviceAnswers({
    store,
    app: async () => ({
      fetch: (request) => {
        here.push(`${request.method} ${new URL(request.url).pathname}`);
        return Response.json({ case: view('cold'), reply: {} });
      },
    }),
    network: async (url, init) => {
      if (!server.there) throw new TypeError('no line');
      server.asked.push(`${init?.method} ${String(url).replace('http://x', '')}`);
      const status = init?.method === 'POST' ? (refuses.shift() ?? 200) : 200;
      return Response.json(status === 200 ? { id: 'a', turns: [] } : { error: { code: 'stale' } }, { status });
    },
    origin: 'http://x',
    now: () => new Date(0),
    tell: (state) => told.push(structuredClone(state)),
  });
  /** Asks, and waits for what goes on after the answer. */
  const ask = async (path: string, body?: object) => {
    const later: Promise<unknown>[] = [];
    const request = new Request(`http://x${path}`, {
      method: body ? 'POST' : 'GET',
      ...(body && { body: JSON.stringify(body) }),
    });
    const response = await device.answer(request, (work) => later.push(work));
    await Promise.all(later);
    return response;
  };
  return { server, device, ask, waiting, conflicts, told, copied, here };
}
const SAY = '/api/cases/a/say';

describe('between a page and the server', () => {
  test('the server answers while it is there, and its turns are copied', async () => {
    const { ask, server, copied, here, waiting } = between();
    await ask(SAY, { turn: 'k', text: 'cold' });
    expect(server.asked).toEqual([`POST ${SAY}`, 'GET /api/cases/a/turns?after=1']);
    expect([copied, here, waiting]).toEqual([['a'], [], []]);
  });
  test('without it a turn is taken here, waits once however often it is sent, and goes up before anything else of its case', async () => {
    const { ask, server, waiting, told, here } = between();
    server.there = false;
    await ask(SAY, { turn: 'k', text: 'cold' });
    await ask(SAY, { turn: 'k', text: 'cold' });
    expect(waiting.map(({ body }) => body)).toEqual([{ turn: 'k', text: 'cold' }]);
    expect(here).toContain(`POST ${SAY}`);
    expect(told.at(-1)).toMatchObject({ network: false, waiting: { a: 1 } });
    server.there = true;
    await ask('/api/cases/a');
    expect(server.asked.slice(0, 3)).toEqual([`POST ${SAY}`, 'GET /api/cases/a/turns?after=0', 'GET /api/cases/a']);
    expect(waiting).toEqual([]);
    expect(told.some(({ sent }) => sent.includes('a'))).toBe(true);
  });
  test('what the server refuses is put before a person with all that waits behind it', async () => {
    const { ask, server, device, waiting, conflicts } = between([409]);
    server.there = false;
    await ask(SAY, { turn: 'k', text: 'cold' });
    await ask(SAY, { turn: 'l', text: 'weak' });
    server.there = true;
    await device.sendAll();
    expect(conflicts).toMatchObject([
      { id: 'a', why: 'stale', unsent: [{ again: { text: 'cold' } }, { again: { text: 'weak' } }] },
    ]);
    expect(waiting).toEqual([]);
  });
  test.each([[429], [500]])('an answer of %d is as no network: what waits goes on waiting', async (status) => {
    const { ask, server, device, waiting } = between([status]);
    server.there = false;
    await ask(SAY, { turn: 'k', text: 'cold' });
    server.there = true;
    await device.sendAll();
    expect(waiting).toHaveLength(1);
  });
});
