import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import autocannon from 'autocannon';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildServer, post, type Running, start } from './built-server.ts';

/** Loopback only and short: it shows that nothing breaks or piles up under load; the numbers are this computer's. So many, in however long. */
const REQUESTS = 600;
const folder = mkdtempSync(join(tmpdir(), 'cold-drum-load-'));
let server: Running;
beforeAll(async () => {
  const file = await buildServer('tests/server/load/entry.ts', '.cache/test-server-load');
  server = await start(file, { COLD_DRUM_DATA: folder, LOG_LEVEL: 'warn' });
});
afterAll(async () => {
  server?.child.kill('SIGTERM');
  await server?.ended;
  rmSync(folder, { recursive: true, force: true });
});

const json = { 'content-type': 'application/json' };
const show = (what: string, r: autocannon.Result) =>
  console.log(
    `${what}: ${Math.round(r.requests.average)} a second, p50 ${r.latency.p50} ms, p99 ${r.latency.p99} ms, worst ${r.latency.max} ms`,
  );

describe('under load nothing fails', () => {
  test('opening cases and talking in them, 10 at once', async () => {
    const { case: opened } = (await (await post(server.address, '/api/cases', { audience: 'agent' })).json()) as {
      case: { id: string };
    };
    const result = await autocannon({
      url: server.address,
      connections: 10,
      amount: REQUESTS,
      // A hang alone: a busy computer answers late, and that is no fault.
      timeout: 600,
      requests: [
        { method: 'POST', path: '/api/cases', headers: json, body: '{"audience":"technician"}' },
        { method: 'GET', path: `/api/cases/${opened.id}` },
        { method: 'POST', path: '/api/reading', headers: json, body: '{"check":"coil-ohm","value":9.8}' },
        { method: 'POST', path: '/api/cases', headers: json, body: '{"audience":"homeowner","units":"metric"}' },
      ],
    });
    show('mixed', result);
    expect({ errors: result.errors, timeouts: result.timeouts, not2xx: result.non2xx }).toEqual({
      errors: 0,
      timeouts: 0,
      not2xx: 0,
    });
    expect(result.requests.total).toBe(REQUESTS);
    expect(server.out()).not.toContain('unexpected');
  });

  test('and what was written under load is all there', async () => {
    const ids: string[] = [];
    for (let i = 0; i < 5; i++) {
      const got = (await (await post(server.address, '/api/cases', { audience: 'agent' })).json()) as { case: { id: string } };
      ids.push(got.case.id);
    }
    await Promise.all(
      ids.map(async (id) => {
        for (let n = 1; n <= 20; n++)
          expect((await post(server.address, `/api/cases/${id}/say`, { text: `coil ${n}`, rev: n })).status).toBe(200);
      }),
    );
    for (const id of ids) {
      const kept = (await (await fetch(`${server.address}/api/cases/${id}`)).json()) as {
        case: { rev: number; answers: unknown[] };
      };
      expect([kept.case.rev, kept.case.answers.length]).toEqual([21, 20]);
    }
  });
});
