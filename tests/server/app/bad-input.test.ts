import { describe, expect, test } from 'vitest';
import { memoryStore } from '../../../server/cases/memory.ts';
import { type CaseStore, UnreadableCase } from '../../../server/cases/store.ts';
import { testApp } from './ask.ts';
import { littleConversation } from './little-conversation.ts';

const say = (id: string) => `/api/cases/${id}/say`;

describe('what cannot be read is 400, with every problem and its place', () => {
  const bodies: [string, unknown, string][] = [
    ['cut off', '{"text": "coil 9', 'not-json'],
    ['not JSON', 'coil=9', 'not-json'],
    ['empty', '', 'not-json'],
    ['NaN', '{"answer":{"fact":"coil_ohm","value":NaN}}', 'not-json'],
    ['Infinity', '{"answer":{"fact":"coil_ohm","value":Infinity}}', 'not-json'],
    ['a number too large for a number', '{"answer":{"fact":"coil_ohm","value":1e999}}', 'not-readable'],
    ['a list', [], 'not-readable'],
    ['null', 'null', 'not-readable'],
    ['nothing said', {}, 'not-readable'],
    ['blanks', { text: ' \n\t ' }, 'not-readable'],
    ['text and answer', { text: 'coil 9', answer: { fact: 'coil_ohm', value: 9 } }, 'not-readable'],
    ['text that is a number', { text: 9 }, 'not-readable'],
    ['4,001 letters', { text: 'x'.repeat(4001) }, 'not-readable'],
    ['a key nobody knows', { text: 'coil 9', loud: true }, 'not-readable'],
    ['a value that is null', { answer: { fact: 'coil_ohm', value: null } }, 'not-readable'],
    ['no value', { answer: { fact: 'coil_ohm' } }, 'not-readable'],
    ['unsure, yet a value', { answer: { fact: 'coil_ohm', value: 9, act: 'unsure' } }, 'not-readable'],
    ['a unit nobody knows', { answer: { fact: 'coil_ohm', value: 9, unit: 'furlong' } }, 'not-readable'],
    ['one point', { answer: { fact: 'coil_ohm', value: 9, points: ['a'] } }, 'not-readable'],
    ['a negative revision', { text: 'coil 9', rev: -1 }, 'not-readable'],
    ['half a revision', { text: 'coil 9', rev: 1.5 }, 'not-readable'],
    ['a key too short', { text: 'coil 9', turn: 'abc' }, 'not-readable'],
  ];
  test.each(bodies)('%s', async (_, body, code) => {
    const { ask, open } = testApp();
    const id = await open();
    const got = await ask('POST', say(id), body);
    expect([got.status, got.body.error.code]).toEqual([400, code]);
    expect((await ask('GET', `/api/cases/${id}`)).body.case).toMatchObject({ rev: 1, answers: [] });
  });

  test('all problems are listed, each with its place', async () => {
    const { ask } = testApp();
    const { status, body } = await ask('POST', '/api/cases', {
      audience: 'passer-by',
      units: 'cubits',
      machine: { plate: { volts: '240' } },
    });
    expect([status, body.error.problems.map((p: { at: string }) => p.at)]).toEqual([
      400,
      ['audience', 'units', 'machine.plate.volts'],
    ]);
  });

  test.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x'])(
    'a body sent as %s',
    async (type) => {
      const { ask, open } = testApp();
      const id = await open();
      for (const [method, path] of [
        ['POST', say(id)],
        ['PATCH', `/api/cases/${id}`],
        ['POST', `/api/cases/${id}/undo`],
      ] as const)
        expect(await ask(method, path, { text: 'coil 9' }, { 'content-type': type })).toMatchObject({
          status: 400,
          body: { error: { code: 'not-json' } },
        });
    },
  );

  test.each(['0', '-1', '1.5', 'x', '1e9999'])('answer number %s', async (seq) => {
    const { ask, open } = testApp();
    expect((await ask('PUT', `/api/cases/${await open()}/answers/${seq}`, { value: 1 })).status).toBe(400);
  });

  test('a sheet in a form nobody knows', async () => {
    const { ask, open } = testApp();
    expect((await ask('GET', `/api/cases/${await open()}/sheet?as=stone`)).status).toBe(400);
  });
});

describe('what can be read but cannot be is 422, in a sentence', () => {
  test.each([
    ['-5 ohm', { fact: 'coil_ohm', value: -5 }, /-5 Ω is not possible/],
    ['4,000 volts', { fact: 'outlet_v', value: 4000 }, /4000 V is not possible/],
    ['volts of a coil', { fact: 'coil_ohm', value: 9, unit: 'V' }, /is in Ω/],
    ['a fact nobody knows', { fact: 'mood', value: 1 }, /not known/],
  ])('%s', async (_, answer, says) => {
    const { ask, open } = testApp();
    const id = await open();
    const got = await ask('POST', say(id), { answer });
    expect([got.status, got.body.error.message]).toEqual([422, expect.stringMatching(says)]);
    expect((await ask('GET', `/api/cases/${id}`)).body.case.rev).toBe(1);
  });
  test('in words too', async () => {
    const { ask, open } = testApp();
    expect((await ask('POST', say(await open()), { text: 'outlet 4000' })).status).toBe(422);
  });
  test('an answer that is not there to change, and a claim this person cannot make', async () => {
    const { ask, open } = testApp();
    const id = await open('homeowner');
    expect(await ask('PUT', `/api/cases/${id}/answers/9`, { value: 1 })).toMatchObject({
      status: 422,
      body: { error: { code: 'no-such-answer' } },
    });
    expect(await ask('PATCH', `/api/cases/${id}`, { qualified: true })).toMatchObject({
      status: 422,
      body: { error: { code: 'not-a-technician' } },
    });
  });
});

describe('a body of more than 32 kB is 413', () => {
  test('with its length told, and in pieces without', async () => {
    const { ask, app, open } = testApp();
    const id = await open();
    const big = JSON.stringify({ text: 'x'.repeat(33 * 1024) });
    expect(await ask('POST', say(id), big)).toMatchObject({ status: 413, body: { error: { code: 'too-large' } } });
    const stream = new ReadableStream({
      start(to) {
        for (let i = 0; i < big.length; i += 4096) to.enqueue(new TextEncoder().encode(big.slice(i, i + 4096)));
        to.close();
      },
    });
    const init = { method: 'POST', body: stream, duplex: 'half', headers: { 'content-type': 'application/json' } };
    expect((await app.request(say(id), init as RequestInit)).status).toBe(413);
  });
  test('just below is read', async () => {
    const { ask, open } = testApp();
    expect(await ask('POST', say(await open()), { text: 'x'.repeat(31 * 1024) })).toMatchObject({
      status: 400,
      body: { error: { code: 'not-readable' } },
    });
  });
});

describe('what is not there is 404, what is done the wrong way 405', () => {
  test.each([
    ['GET', '/api/cases/nobody'],
    ['POST', '/api/cases/nobody/say', { text: 'coil 9' }],
    ['POST', '/api/cases/nobody/say', { text: 'coil 9', turn: 'turn-0001' }],
    ['POST', '/api/cases/nobody/undo', {}],
    ['PUT', '/api/cases/nobody/answers/1', { value: 1 }],
    ['PATCH', '/api/cases/nobody', { units: 'us' }],
    ['GET', '/api/cases/nobody/sheet'],
    ['GET', `/api/cases/${'a'.repeat(150)}`],
    ['GET', '/api/cases/..%2f..%2fetc%2fpasswd'],
    ['GET', '/api/demo/nobody'],
  ])('%s %s', async (method, path, body?: object) => {
    const { ask } = testApp();
    const got = await ask(method, path, body);
    expect([got.status, got.body.error.code]).toEqual([404, path.includes('demo') ? 'no-such-demo' : 'no-such-case']);
    if (!path.includes('demo')) expect(got.body.error.message).toMatch(/No case is kept/);
  });
  test.each(['/', '/api', '/api/nowhere', '/api/cases/x/y/z'])('GET %s', async (path) => {
    expect(await testApp().ask('GET', path)).toMatchObject({ status: 404, body: { error: { code: 'no-such-page' } } });
  });
  test.each([
    ['DELETE', '/api/cases/nobody', 'PUT, PATCH, GET, HEAD'],
    ['PUT', '/api/cases/nobody/say', 'POST'],
    ['GET', '/api/reading', 'POST'],
    ['POST', '/openapi.json', 'GET, HEAD'],
  ])('%s %s', async (method, path, allow) => {
    const { status, body, headers } = await testApp().ask(method, path);
    expect([status, body.error.code, headers.get('allow')]).toEqual([405, 'wrong-method', allow]);
  });
});

test('a page on another site cannot send anything in', async () => {
  const { ask } = testApp();
  const got = await ask('POST', '/api/cases', { audience: 'agent' }, { 'sec-fetch-site': 'cross-site' });
  expect([got.status, got.body.error.code]).toEqual([403, 'cross-site']);
});

describe('what breaks inside is 500: one word outside, all of it in the log', () => {
  test('a conversation that throws', async () => {
    const { ask, open, logged } = testApp();
    const id = await open();
    const got = await ask('POST', say(id), { text: 'break' });
    expect([got.status, got.body]).toEqual([500, { error: { code: 'unexpected' } }]);
    expect(logged.unexpected).toEqual([
      [new Error('the little conversation broke'), expect.objectContaining({ method: 'POST' })],
    ]);
    expect((await ask('GET', `/api/cases/${id}`)).status).toBe(200);
  });
  test('a stored case that cannot be read; others go on', async () => {
    const kept = memoryStore();
    const store: CaseStore = {
      ...kept,
      get: (id, rev) =>
        id === 'spoilt' ? Promise.reject(new UnreadableCase('answer 3 of a stored case is not JSON')) : kept.get(id, rev),
    };
    const { ask, open, logged } = testApp({ store });
    expect(await ask('GET', '/api/cases/spoilt')).toMatchObject({ status: 500, body: { error: { code: 'unexpected' } } });
    expect((await ask('GET', `/api/cases/${await open()}`)).status).toBe(200);
    expect(logged.unexpected).toHaveLength(1);
  });
});

describe('too many', () => {
  test('the fourth of three is 429 until the minute is over, and only for this client', async () => {
    const { ask, clock } = testApp({ perMinute: 3 });
    const health = (client: string) => ask('GET', '/api/health', undefined, { 'x-test-client': client });
    for (let i = 0; i < 3; i++) expect((await health('one')).status).toBe(200);
    clock.now += 20_000;
    const { status, body, headers } = await health('one');
    expect([status, body.error, headers.get('retry-after')]).toEqual([429, { code: 'too-many', wait_s: 40 }, '40']);
    expect((await health('two')).status).toBe(200);
    clock.now += 40_000;
    expect((await health('one')).status).toBe(200);
  });
});

describe('the log', () => {
  test('has id, method, path, status and time, and never a word anybody typed nor a whole case id', async () => {
    const secret = 'the coil at 12 Example Street reads 9.8';
    const kept = memoryStore();
    const { ask, open, logged, clock } = testApp({
      store: kept,
      conversation: { ...littleConversation(), undo: () => Promise.reject(new Error('broke')) },
    });
    const id = await open();
    await ask('POST', say(id), { text: secret });
    await ask('POST', say(id), `{"text": "${secret}`);
    await ask('POST', say(id), { text: 'coil 9', [secret]: 1 });
    await ask('POST', `/api/cases/${id}/undo`);
    clock.now += 5;
    await ask('GET', `/api/cases/${id}/sheet?as=${encodeURIComponent(secret)}`);
    expect(logged.requests.map((r) => r.status)).toEqual([201, 200, 400, 400, 500, 400]);
    expect(logged.requests[1]).toEqual({
      id: expect.any(String),
      method: 'POST',
      path: `/api/cases/${id.slice(0, 6)}…/say`,
      status: 200,
      ms: 0,
    });
    expect(JSON.stringify(logged)).not.toContain('Example Street');
    expect(JSON.stringify(logged)).not.toContain(id);
  });
});

describe('headers', () => {
  test.each(['/api/health', '/api/docs', '/nowhere', '/openapi.json'])(
    '%s carries a strict policy and nothing about https',
    async (path) => {
      const { headers } = await testApp().ask('GET', path);
      const policy = headers.get('content-security-policy') ?? '';
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self'");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toMatch(/unsafe|\*|https?:/);
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('strict-transport-security')).toBeNull();
    },
  );
  test('cases are not to be stored on the way', async () => {
    const { ask, open } = testApp();
    expect((await ask('GET', `/api/cases/${await open()}`)).headers.get('cache-control')).toBe('no-store');
  });
});
