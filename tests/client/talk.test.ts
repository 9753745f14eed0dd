import { afterEach, describe, expect, test, vi } from 'vitest';
import { createTalk } from '../../client/case/create-talk.ts';
import { afterReply, type TalkState } from '../../client/case/talk.ts';
import type { Line, Opened } from '../../client/types.ts';
import type { CaseView, Part, Reply } from '../../server/types.ts';

const line = (seq: number, more: Partial<Line> = {}): Line => ({
  seq,
  turn: seq,
  fact: `fact ${seq}`,
  label: `Question ${seq}`,
  shown: 'yes',
  said: 'yes',
  act: 'tell',
  ...more,
});
const view = (rev: number, answers: Line[] = []): CaseView => ({
  id: 'a',
  rev,
  audience: 'homeowner',
  families: [],
  units: 'us',
  machine: {},
  answers,
});
const reply = (parts: Part[] = [], more: Partial<Reply> = {}): Reply =>
  ({ parts, evidence: [], suspects: [], ...more }) as unknown as Reply;
const opened = (rev: number, answers: Line[] = [], told = reply()): Opened => ({ case: view(rev, answers), reply: told });
const state = (more: Partial<TalkState> = {}): TalkState => ({
  id: 'a',
  notes: {},
  seen: {},
  outcome: [],
  busy: false,
  gone: false,
  turns: 0,
  ...more,
});
const says = (text: string): Part => ({ kind: 'say', text });

describe('what a reply changes', () => {
  test('words no answer came of stand under the newest answer, with what was said back', () => {
    const before = view(1, [line(1)]);
    const first = afterReply(state(), opened(1, [line(1)], reply([says('I cannot.')])), 'sing', before);
    expect(first.notes).toEqual({ 1: [{ said: 'sing', parts: [says('I cannot.')] }] });
    const then = afterReply(state(first), opened(1, [line(1)], reply([says('Nor that.')])), 'dance', before);
    expect(then.notes![1]!.map(({ said }) => said)).toEqual(['sing', 'dance']);
  });
  test('words that became an answer are not quoted again, nor is what only says the answer back', () => {
    const echo = says('Question 2: yes.');
    const after = afterReply(
      state(),
      opened(2, [line(1), line(2)], reply([echo, says('And mind the cord.')])),
      'y',
      view(1, [line(1)]),
    );
    expect(after.notes).toEqual({ 2: [{ parts: [says('And mind the cord.')] }] });
    const only = afterReply(state(), opened(2, [line(1), line(2)], reply([echo])), 'y', view(1, [line(1)]));
    expect(only.notes).toEqual({});
  });
  test('choices of one fact are kept for a change later; those of several are not', () => {
    const ask = (facts: string[]) =>
      reply([], { ask: { kind: 'one', choices: facts.map((fact, n) => ({ id: `${n}`, label: `${n}`, fact })) } as Reply['ask'] });
    expect(Object.keys(afterReply(state(), opened(1, [], ask(['slots', 'slots'])), undefined, undefined).seen!)).toEqual([
      'slots',
    ]);
    expect(afterReply(state(), opened(1, [], ask(['slots', 'fuel'])), undefined, undefined).seen).toEqual({});
  });
});

/** A server of which every answer is told beforehand; what it was asked is written down. */
function server(...answers: (Opened | number | 'no line')[]) {
  const asked: { method: string; rev?: number; turn?: string; job?: object }[] = [];
  vi.stubGlobal('fetch', async (_path: string, { method, body }: { method: string; body?: string }) => {
    asked.push({ method, ...(body && JSON.parse(body)) });
    const answer = answers.shift();
    if (answer === undefined || answer === 'no line') throw new TypeError('no line');
    if (typeof answer === 'number') return Response.json({ error: {} }, { status: answer });
    const nothing = { noted: [], verdicts: {}, sources: [], ruledOut: [] };
    return Response.json({ ...answer, reply: { ...answer.reply, ...nothing } });
  });
  return asked;
}
afterEach(() => vi.unstubAllGlobals());

describe('a talk', () => {
  test('sends what a broken line kept back under the same key', async () => {
    const asked = server('no line', opened(2, [line(1)]));
    const talk = createTalk('a', opened(1));
    expect(await talk.say('cold')).toBe(false);
    expect(talk.get()).toMatchObject({ busy: false, unsent: { said: 'cold', now: false } });
    talk.online();
    expect(talk.get().unsent?.now).toBe(true);
    expect(await talk.get().unsent!.again()).toBe(true);
    expect(asked.map(({ turn }) => turn === asked[0]!.turn)).toEqual([true, true]);
    expect(talk.get()).toMatchObject({ turns: 1, unsent: undefined, trouble: undefined });
  });
  test('takes back the readings of one visit together, and from then on one turn at a time', async () => {
    const asked = server(opened(2), opened(3), opened(4), opened(5), opened(6));
    const talk = createTalk('a', opened(1));
    expect(
      await talk.answer([
        { fact: 'one', value: 1 },
        { fact: 'two', value: 2 },
      ]),
    ).toBe(true);
    expect(await talk.undo()).toBe(true);
    expect(asked.map(({ rev }) => rev)).toEqual([1, 2, 3, 4]);
    await talk.undo();
    expect(asked).toHaveLength(5);
  });
  test('of readings where the line breaks goes on from the one that was not sent', async () => {
    const asked = server(opened(2), 'no line', opened(3));
    const talk = createTalk('a', opened(1));
    expect(
      await talk.answer([
        { fact: 'one', value: 1 },
        { fact: 'two', value: 2 },
      ]),
    ).toBe(false);
    expect(await talk.get().unsent!.again()).toBe(true);
    expect(asked.map(({ rev }) => rev)).toEqual([1, 2, 2]);
  });
  test('that was added to elsewhere is shown as it is there, and says so', async () => {
    server(409, opened(7, [line(1), line(2)]));
    const talk = createTalk('a', opened(1));
    expect(await talk.say('cold')).toBe(false);
    expect(talk.get()).toMatchObject({ busy: false, gone: false, view: { rev: 7 } });
    expect(talk.get().trouble).toBeTruthy();
  });
  test('sends what is written on the sheet first, and counts on the revision that left', async () => {
    const asked = server(opened(2), opened(3));
    const talk = createTalk('a', opened(1));
    const [filled, said] = await Promise.all([talk.fill({ name: 'A' }), talk.say('cold')]);
    expect([filled, said]).toEqual([true, true]);
    expect(asked.map(({ method, rev }) => [method, rev])).toEqual([
      ['PATCH', 1],
      ['POST', 2],
    ]);
  });
  test('writes on a sheet that went on elsewhere once more', async () => {
    const asked = server(409, opened(4), opened(5));
    const talk = createTalk('a', opened(1));
    expect(await talk.fill({ name: 'A' })).toBe(true);
    expect(asked.map(({ rev }) => rev)).toEqual([1, undefined, 4]);
    expect(talk.get()).toMatchObject({ turns: 0, view: { rev: 5 } });
  });
  test('that is gone says so', async () => {
    server(404);
    const talk = createTalk('a');
    await talk.load();
    expect(talk.get()).toMatchObject({ gone: true, busy: false });
  });
});
