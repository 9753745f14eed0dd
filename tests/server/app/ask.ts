import { expect } from 'vitest';
import type { z } from 'zod';
import { createApp } from '../../../server/app.ts';
import { memoryStore } from '../../../server/cases/memory.ts';
import type { Deps, RequestEntry } from '../../../server/deps.ts';
import { routeList } from '../../../server/routes/list.ts';
import { littleConversation } from './little-conversation.ts';

export interface Logged {
  requests: RequestEntry[];
  unexpected: unknown[];
}

/** The app with a clock and ids of the test's own. Every JSON answer is held against the shape its route is documented with. */
export function testApp(over: Partial<Deps> = {}) {
  let ids = 0;
  const clock = { now: Date.parse('2026-03-04T05:06:07Z') };
  const logged: Logged = { requests: [], unexpected: [] };
  const app = createApp({
    conversation: littleConversation(),
    store: memoryStore(),
    demos: {
      list: async () => [{ name: 'burnt-coil', title: 'A burnt coil' }],
      read: async (name) => (name === 'burnt-coil' ? { name, title: 'A burnt coil', transcript: [] } : undefined),
    },
    now: () => new Date(clock.now),
    newId: () => `case-${String(++ids).padStart(24, '0')}`,
    log: { request: (entry) => logged.requests.push(entry), unexpected: (...what) => logged.unexpected.push(what) },
    clientKey: (c) => c.req.header('x-test-client') ?? 'one',
    perMinute: 0,
    by: 'server',
    ...over,
  });

  const ask = async (method: string, path: string, body?: unknown, headers: Record<string, string> = {}) => {
    const init: RequestInit = { method, headers };
    if (body !== undefined) {
      init.body = typeof body === 'string' ? body : JSON.stringify(body);
      init.headers = { 'content-type': 'application/json', ...headers };
    }
    const response = await app.request(path, init);
    const text = await response.text();
    const type = response.headers.get('content-type') ?? '';
    const answer = type.startsWith('application/json') ? JSON.parse(text) : text;
    holdAgainstItsRoute(method, path.split('?')[0]!, response.status, type.split(';')[0]!, answer);
    return { status: response.status, body: answer, headers: response.headers };
  };
  const open = async (audience = 'technician'): Promise<string> => (await ask('POST', '/api/cases', { audience })).body.case.id;
  return { app, ask, open, clock, logged };
}

export const pattern = (path: string) => new RegExp(`^${path.replace(/[.]/g, '\\.').replace(/\{\w+\}/g, '[^/]+')}$`);

function holdAgainstItsRoute(method: string, path: string, status: number, type: string, answer: unknown) {
  if (status >= 400) {
    expect(answer).toEqual({ error: expect.objectContaining({ code: expect.stringMatching(/^[a-z][a-z-]+$/) }) });
    const route = routeList.find((r) => r.method === method.toLowerCase() && pattern(r.path).test(path));
    if (route && status !== 403) expect(route.errors, `${method} ${route.path}`).toContain(status);
    return;
  }
  const route = routeList.find((r) => r.method === method.toLowerCase() && pattern(r.path).test(path));
  const shape: z.ZodType | undefined = route?.answers[status]?.[type];
  expect(shape, `${method} ${path} answered ${status} ${type}, which its route does not name`).toBeDefined();
  const parsed = shape!.safeParse(answer);
  expect(parsed.success ? [] : parsed.error.issues, `${method} ${path}`).toEqual([]);
}
