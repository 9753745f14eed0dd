import { describe, expect, test } from 'vitest';
import { memoryStore } from '../../../server/cases/memory.ts';
import { MOST_ANSWERS } from '../../../server/cases/take-turn.ts';
import { newId } from '../../../server/new-id.ts';
import { testApp } from './ask.ts';

describe('a case', () => {
  test('opens at revision 1 under a new id, and says where it is', async () => {
    const { ask } = testApp();
    const { status, body, headers } = await ask('POST', '/api/cases', { audience: 'homeowner', units: 'metric' });
    expect([status, headers.get('location')]).toEqual([201, `/api/cases/${body.case.id}`]);
    expect(body.case).toMatchObject({ rev: 1, audience: 'homeowner', units: 'metric', answers: [] });
  });

  test('grows by what is said, and looking at it gives the very same case back', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const said = await ask('POST', `/api/cases/${id}/say?explain=1`, { text: 'the coil reads 9.8', rev: 1 });
    expect(said.body.case).toMatchObject({
      id,
      rev: 2,
      answers: [{ fact: 'coil_ohm', shown: '9.8', said: 'the coil reads 9.8' }],
    });
    expect(said.body.reply.consultation.rev).toBe(2);
    const seen = await ask('GET', `/api/cases/${id}?explain=1`);
    expect(seen.body.case).toEqual(said.body.case);
    expect(seen.body.reply.consultation).toEqual(said.body.reply.consultation);
    const { body: brief } = await ask('GET', `/api/cases/${id}`);
    expect(brief.reply).toEqual({ ...seen.body.reply, consultation: undefined });
    expect(brief.reply).not.toHaveProperty('consultation');
  });

  test('takes a structured answer as well as words', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const answer = {
      fact: 'coil_ohm',
      value: 'open',
      unit: 'Ω',
      points: ['a', 'b'],
      state: 'unplugged',
      lifted: true,
      lowImpedance: false,
    };
    const { status, body } = await ask('POST', `/api/cases/${id}/say`, { answer });
    expect([status, body.reply.evidence[0].verdict]).toEqual([200, 'open']);
  });

  test('unsure is an answer without a value', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const { body } = await ask('POST', `/api/cases/${id}/say`, { answer: { fact: 'coil_ohm', act: 'unsure' } });
    expect(body.case.answers).toMatchObject([{ act: 'unsure' }]);
    expect(body.reply.evidence).toEqual([]);
  });

  test('what is not understood is answered and changes nothing', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const { status, body } = await ask('POST', `/api/cases/${id}/say`, { text: 'lovely weather' });
    expect([status, body.case.rev, body.understood.left]).toEqual([200, 1, ['all of it']]);
  });

  test('undo, change in place and new settings are turns like any other', async () => {
    const { ask, open } = testApp();
    const id = await open();
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 98' });
    const changed = await ask('PUT', `/api/cases/${id}/answers/1`, { value: 9.8, rev: 2 });
    expect(changed.body.case).toMatchObject({ rev: 3, answers: [{ seq: 2, shown: '9.8' }] });
    const patched = await ask('PATCH', `/api/cases/${id}`, { units: 'metric', machine: { plate: { total_w: 5600 } } });
    expect(patched.body.case).toMatchObject({ rev: 4, units: 'metric', machine: { plate: { total_w: 5600 } } });
    const undone = await ask('POST', `/api/cases/${id}/undo`);
    expect(undone.body.case).toMatchObject({ rev: 5, units: 'metric', answers: [{ seq: 1, shown: '98' }] });
    const again = await ask('POST', `/api/cases/${id}/undo`, { rev: 5 });
    expect(again.body.case).toMatchObject({ rev: 6, answers: [] });
    expect(await ask('POST', `/api/cases/${id}/undo`, {})).toMatchObject({
      status: 422,
      body: { error: { code: 'nothing-to-undo' } },
    });
  });

  test('a handed-over case keeps its new audience', async () => {
    const store = memoryStore();
    const { ask, open } = testApp({ store });
    const id = await open('agent');
    await ask('PATCH', `/api/cases/${id}`, { audience: 'technician' });
    expect((await store.get(id))?.audience).toBe('technician');
    expect((await ask('GET', `/api/cases/${id}`)).body.case.audience).toBe('technician');
  });

  test('a case as long as a case can be takes no more', async () => {
    const store = memoryStore();
    const { ask } = testApp({ store });
    const answers = Array.from({ length: MOST_ANSWERS }, (_, i) => ({
      seq: i + 1,
      turn: i + 1,
      act: 'later' as const,
      about: { check: 'coil-ohm' },
      said: '',
      by: 'agent' as const,
    }));
    await store.create({ id: 'long', rev: 1, opened: '', audience: 'agent', settings: {}, answers });
    expect(await ask('POST', '/api/cases/long/say', { text: 'coil 9' })).toMatchObject({
      status: 422,
      body: { error: { code: 'case-full' } },
    });
  });
});

describe('two hands on one case', () => {
  test('a stale revision is told which revision is current, and adds nothing', async () => {
    const { ask, open } = testApp();
    const id = await open();
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 9', rev: 1 });
    for (const [method, path, body] of [
      ['POST', 'say', { text: 'coil 8', rev: 1 }],
      ['POST', 'undo', { rev: 1 }],
      ['PUT', 'answers/1', { rev: 1, value: 3 }],
      ['PATCH', '', { rev: 1, units: 'metric' }],
      ['POST', 'say', { text: 'coil 8', rev: 3 }],
    ] as const) {
      const got = await ask(method, `/api/cases/${id}/${path}`.replace(/\/$/, ''), body);
      expect([got.status, got.body], `${method} ${path}`).toEqual([
        409,
        { error: { code: 'stale', rev: 2, message: expect.stringContaining('added to since') } },
      ]);
    }
    expect((await ask('GET', `/api/cases/${id}`)).body.case).toMatchObject({ rev: 2, answers: [{ shown: '9' }] });
  });

  test('of ten at once on one revision one is taken', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const got = await Promise.all(
      Array.from({ length: 10 }, (_, i) => ask('POST', `/api/cases/${id}/say`, { text: `coil ${i}`, rev: 1 })),
    );
    expect(got.map((g) => g.status).toSorted()).toEqual([200, ...Array(9).fill(409)]);
    expect((await ask('GET', `/api/cases/${id}`)).body.case.answers).toHaveLength(1);
  });
});

describe('a turn sent again under its key', () => {
  const turn = 'turn-0001';
  test('gets the same reply, however much the case has moved on, and adds nothing', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const first = await ask('POST', `/api/cases/${id}/say`, { text: 'coil 9', rev: 1, turn });
    await ask('POST', `/api/cases/${id}/say`, { text: 'outlet 240' });
    const second = await ask('POST', `/api/cases/${id}/say`, { text: 'coil 9', rev: 1, turn });
    expect([second.status, second.body]).toEqual([first.status, first.body]);
    expect((await ask('GET', `/api/cases/${id}`)).body.case).toMatchObject({ rev: 3, answers: [{ seq: 1 }, { seq: 2 }] });
  });

  test('even where nothing was understood the first time', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const first = await ask('POST', `/api/cases/${id}/say`, { text: 'hm', turn });
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 9' });
    expect((await ask('POST', `/api/cases/${id}/say`, { text: 'hm', turn })).body).toEqual(first.body);
  });

  test('holds for undo, change and settings', async () => {
    const { ask, open } = testApp();
    const id = await open();
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 9' });
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 8' });
    for (const [method, path, body] of [
      ['PUT', '/answers/1', { value: 10, turn: 'change-01' }],
      ['PATCH', '', { units: 'metric', turn: 'patch-001' }],
      ['POST', '/undo', { turn: 'undo-0001' }],
    ] as const) {
      const [first, second] = [
        await ask(method, `/api/cases/${id}${path}`, body),
        await ask(method, `/api/cases/${id}${path}`, body),
      ];
      expect(first.status, path).toBe(200);
      expect(second.body, path).toEqual(first.body);
    }
    expect((await ask('GET', `/api/cases/${id}`)).body.case.rev).toBe(6);
  });

  test('two at once are one turn', async () => {
    const { ask, open } = testApp();
    const id = await open();
    const got = await Promise.all([1, 2, 3].map(() => ask('POST', `/api/cases/${id}/say`, { text: 'coil 9', turn, rev: 1 })));
    for (const one of got) expect([one.status, one.body]).toEqual([200, got[0]!.body]);
    expect((await ask('GET', `/api/cases/${id}`)).body.case.answers).toHaveLength(1);
  });

  test('with other words is refused', async () => {
    const { ask, open } = testApp();
    const id = await open();
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 9', turn });
    expect(await ask('POST', `/api/cases/${id}/say`, { text: 'coil 8', turn })).toMatchObject({
      status: 422,
      body: { error: { code: 'key-reused' } },
    });
  });

  test('belongs to its case alone', async () => {
    const { ask, open } = testApp();
    const [one, two] = [await open(), await open()];
    await ask('POST', `/api/cases/${one}/say`, { text: 'coil 9', turn });
    const other = await ask('POST', `/api/cases/${two}/say`, { text: 'coil 7', turn });
    expect([other.status, other.body.case.answers[0].shown]).toEqual([200, '7']);
  });
});

test('ids are 144 bits, fit for an address, and never the same twice', () => {
  const ids = Array.from({ length: 2000 }, newId);
  for (const id of ids) expect(id).toMatch(/^[A-Za-z0-9_-]{24}$/);
  expect(new Set(ids).size).toBe(2000);
});
