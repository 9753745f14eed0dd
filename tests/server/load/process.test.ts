import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { get } from 'node:http';
import { connect, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { buildServer, post, type Running, start, startInVain } from './built-server.ts';

let folder: string;
let file: string;
const running: Running[] = [];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'cold-drum-process-'));
  file = await buildServer('tests/server/load/entry.ts', '.cache/test-server-process');
});
afterEach(async () => {
  for (const r of running.splice(0)) {
    r.child.kill('SIGKILL');
    await r.ended;
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const up = async (env: Record<string, string>) => {
  const r = await start(file, { TEST_HOME: folder, ...env });
  running.push(r);
  return r;
};
const openCase = async (address: string): Promise<string> =>
  ((await (await post(address, '/api/cases', { audience: 'agent' })).json()) as { case: { id: string } }).case.id;

/** fetch() would tidy the path before sending it. */
const rawStatus = (address: string, path: string) =>
  new Promise<number>((done, failed) => {
    const { hostname, port } = new URL(address);
    get({ hostname, port, path }, (r) => done(r.resume().statusCode ?? 0)).on('error', failed);
  });

describe('the first start', () => {
  test('makes the folder and the case file, prints the address, listens on this computer only', async () => {
    const data = join(folder, 'new', 'deep');
    const r = await up({ COLD_DRUM_DATA: data });
    expect(r.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    expect(existsSync(join(data, 'cold-drum.sqlite'))).toBe(true);
    expect(statSync(data).mode & 0o077).toBe(0);
    expect(await (await fetch(`${r.address}/api/health`)).json()).toMatchObject({ ok: true, by: 'server' });
  });

  test('without a built page, the front says so and the API works', async () => {
    const r = await up({ COLD_DRUM_DATA: join(folder, 'bare') });
    const front = await fetch(r.address);
    expect([front.status, await front.text()]).toEqual([503, expect.stringContaining('npm run build')]);
    expect((await fetch(`${r.address}/api/docs`)).status).toBe(200);
  });

  test('with a built page it is served with the same strict headers, and nothing outside its folder is', async () => {
    const home = join(folder, 'home');
    mkdirSync(join(home, '.build/client/assets'), { recursive: true });
    writeFileSync(join(home, '.build/client/index.html'), '<!doctype html><title>Cold Drum</title>');
    writeFileSync(join(home, '.build/client/assets/a-1.js'), `console.log('${'x'.repeat(2000)}')`);
    writeFileSync(join(home, 'secret.txt'), 'secret');
    const r = await up({ TEST_HOME: home });
    const front = await fetch(r.address);
    expect([front.status, front.headers.get('cache-control'), await front.text()]).toEqual([
      200,
      'no-cache',
      expect.stringContaining('<title>'),
    ]);
    expect(front.headers.get('content-security-policy')).toContain("script-src 'self'");
    const script = await fetch(`${r.address}/assets/a-1.js`);
    expect([script.status, script.headers.get('cache-control')]).toEqual([200, 'public, max-age=31536000, immutable']);
    const tag = front.headers.get('etag') ?? '';
    expect((await fetch(r.address, { headers: { 'if-none-match': tag } })).status).toBe(304);
    for (const path of [
      '/../../secret.txt',
      '/%2e%2e/%2e%2e/secret.txt',
      '/..%2f..%2fsecret.txt',
      '/assets/../../../secret.txt',
      '/..\\..\\secret.txt',
    ])
      expect(await rawStatus(r.address, path), path).toBeGreaterThanOrEqual(400);
    expect((await post(r.address, '/', {})).status).toBe(405);
    expect(existsSync(join(home, 'data/cold-drum.sqlite'))).toBe(true);
  });
});

describe('what the person at the terminal can put right ends in one sentence and exit code 1', () => {
  const oneSentence = (said: string, pattern: RegExp) => {
    expect(said).toMatch(/^ended with 1: /);
    expect(said).toMatch(pattern);
    expect(said).not.toMatch(/\n\s+at |node:internal/);
  };
  test('the port is in use', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await new Promise((done) => other.once('listening', done));
    const { port } = other.address() as { port: number };
    const said = await startInVain(file, { PORT: String(port), COLD_DRUM_DATA: join(folder, 'port') });
    other.close();
    oneSentence(said, new RegExp(`Port ${port} is in use`));
  });
  test.each([
    ['PORT', 'eighty', /PORT is "eighty"\. It must be a whole number/],
    ['PORT', '99999', /from 0 to 65535/],
    ['COLD_DRUM_RATE', '-1', /COLD_DRUM_RATE is "-1"/],
    ['LOG_LEVEL', 'loud', /LOG_LEVEL is "loud"/],
    ['HOST', '203.0.113.7', /no address of this computer/],
  ])('%s=%s', async (name, value, says) => {
    oneSentence(await startInVain(file, { COLD_DRUM_DATA: join(folder, 'setting'), [name]: value }), says);
  });
  test('the case file is damaged: it is named and left as it is', async () => {
    const data = join(folder, 'damaged');
    mkdirSync(data);
    writeFileSync(join(data, 'cold-drum.sqlite'), 'not a database '.repeat(100));
    const said = await startInVain(file, { COLD_DRUM_DATA: data });
    oneSentence(said, /is damaged \(SQLITE_NOTADB\)/);
    expect(said).toContain(join(data, 'cold-drum.sqlite'));
    expect(readFileSync(join(data, 'cold-drum.sqlite'), 'utf8')).toBe('not a database '.repeat(100));
  });
  test('the folder cannot be made', async () => {
    writeFileSync(join(folder, 'a-file'), '');
    oneSentence(await startInVain(file, { COLD_DRUM_DATA: join(folder, 'a-file') }), /cannot be made \((ENOTDIR|EEXIST)\)/);
  });
});

describe('the end', () => {
  test.each(['SIGTERM', 'SIGINT'] as const)(
    '%s is orderly: exit code 0, nothing left open beside the case file',
    async (signal) => {
      const data = join(folder, signal);
      const r = await up({ COLD_DRUM_DATA: data });
      await openCase(r.address);
      // A connection kept open does not keep the program alive, nor does Ctrl-C under npm, which arrives twice.
      const idle = connect(Number(new URL(r.address).port), '127.0.0.1');
      await new Promise((done) => idle.once('connect', done));
      r.child.kill(signal);
      r.child.kill(signal);
      expect(await r.ended).toBe(0);
      expect(existsSync(join(data, 'cold-drum.sqlite-wal'))).toBe(false);
    },
  );

  test('kill -9 while people are answering loses no answer that was acknowledged', async () => {
    const data = join(folder, 'killed');
    const first = await up({ COLD_DRUM_DATA: data });
    const ids = await Promise.all(Array.from({ length: 4 }, () => openCase(first.address)));
    const acknowledged = new Map(ids.map((id) => [id, 0]));
    const talk = async (id: string) => {
      for (let n = 1; ; n++) {
        const got = await post(first.address, `/api/cases/${id}/say`, { text: `coil ${n}` }).catch(() => undefined);
        if (got?.status !== 200) return;
        acknowledged.set(id, n);
        // In the middle of it: all are talking, on however slow a computer.
        if (Math.min(...acknowledged.values()) >= 5) first.child.kill('SIGKILL');
      }
    };
    await Promise.all(ids.map(talk));
    expect(await first.ended).toBe('SIGKILL');
    const second = await up({ COLD_DRUM_DATA: data });
    for (const [id, n] of acknowledged) {
      const kept = (await (await fetch(`${second.address}/api/cases/${id}`)).json()) as {
        case: { answers: { shown: string }[] };
      };
      expect(n).toBeGreaterThanOrEqual(5);
      expect(kept.case.answers.length).toBeGreaterThanOrEqual(n);
      expect(kept.case.answers.map((a) => a.shown)).toEqual(kept.case.answers.map((_, i) => String(i + 1)));
    }
  });
});

test('one spoilt row: that case is 500 in one word, the others and the log stay clean', async () => {
  const data = join(folder, 'row');
  const r = await up({ COLD_DRUM_DATA: data });
  const [spoilt, fine] = [await openCase(r.address), await openCase(r.address)];
  for (const id of [spoilt, fine]) await post(r.address, `/api/cases/${id}/say`, { text: 'coil 9, my secret words' });
  const db = new Database(join(data, 'cold-drum.sqlite'));
  db.prepare(`update answers set body = '{"said":"my secret words' where case_id = ?`).run(spoilt);
  db.close();
  const got = await fetch(`${r.address}/api/cases/${spoilt}`);
  expect([got.status, await got.json()]).toEqual([500, { error: { code: 'unexpected' } }]);
  expect((await fetch(`${r.address}/api/cases/${fine}`)).status).toBe(200);
  expect(r.out()).toContain('answer 1 of a stored case is not JSON');
  expect(r.out()).toContain('/say');
  expect(r.out()).not.toContain('secret words');
  expect(r.out()).not.toContain(fine);
});

test('one client asking too often is told to wait', async () => {
  const r = await up({ COLD_DRUM_DATA: join(folder, 'rate'), COLD_DRUM_RATE: '5' });
  const got: number[] = [];
  for (let i = 0; i < 7; i++) got.push((await fetch(`${r.address}/api/health`)).status);
  expect(got).toEqual([200, 200, 200, 200, 200, 429, 429]);
});
