import { Validator } from '@seriousme/openapi-schema-validator';
import { describe, expect, test } from 'vitest';
import { routeList } from '../../../server/routes/list.ts';
import { testApp } from './ask.ts';

describe('OpenAPI', () => {
  test('is valid 3.1 and every reference leads somewhere', async () => {
    const { body } = await testApp().ask('GET', '/openapi.json');
    expect(body.openapi).toBe('3.1.0');
    const { valid, errors } = await new Validator().validate(structuredClone(body));
    expect([valid, errors]).toEqual([true, undefined]);
    const references = [...JSON.stringify(body).matchAll(/"\$ref":"([^"]+)"/g)].map((m) => m[1]!);
    expect(references.length).toBeGreaterThan(20);
    for (const ref of references) {
      const found = ref
        .slice(2)
        .split('/')
        .reduce((at, key) => at?.[key], body);
      expect(found, ref).toBeDefined();
    }
  });

  test('names every route of the app, and no other', () => {
    const served = testApp()
      .app.routes.filter((r) => r.method !== 'ALL')
      .map((r) => `${r.method} ${r.path.replace(/:(\w+)/g, '{$1}')}`);
    const documented = routeList.map((r) => `${r.method.toUpperCase()} ${r.path}`);
    expect([...new Set(served)].toSorted()).toEqual(documented.toSorted());
  });

  test('operation ids are each their own', async () => {
    const { body } = await testApp().ask('GET', '/openapi.json');
    const ids = Object.values(body.paths as Record<string, Record<string, { operationId: string }>>).flatMap((p) =>
      Object.values(p).map((o) => o.operationId),
    );
    expect(new Set(ids).size).toBe(routeList.length);
  });

  test('a body the routes take is a body the document allows, and a wrong one is not', async () => {
    const { default: Ajv } = await import('ajv/dist/2020.js');
    const { body: doc } = await testApp().ask('GET', '/openapi.json');
    const schema = doc.paths['/api/cases/{id}/say'].post.requestBody.content['application/json'].schema;
    const check = new Ajv({ strict: false }).compile({ ...schema, components: doc.components });
    expect(check({ text: 'coil 9', rev: 1 })).toBe(true);
    expect(check({ answer: { fact: 'coil_ohm', value: 'open', points: ['a', 'b'] } })).toBe(true);
    expect(check({ text: 9 })).toBe(false);
    expect(check({ text: 'coil 9', loud: true })).toBe(false);
  });
});

describe('what the program says of itself', () => {
  test('health says who answers and on what knowledge', async () => {
    expect((await testApp().ask('GET', '/api/health')).body).toEqual({ ok: true, by: 'server', knowledge: 'little' });
    expect((await testApp({ by: 'worker' }).ask('GET', '/api/health')).body.by).toBe('worker');
  });
  test('the knowledge, the talks and one talk', async () => {
    const { ask } = testApp();
    expect((await ask('GET', '/api/knowledge')).body.checks.map((c: { id: string }) => c.id)).toEqual(['coil-ohm', 'outlet-v']);
    expect((await ask('GET', '/api/demo')).body).toEqual([{ name: 'burnt-coil', title: 'A burnt coil' }]);
    expect((await ask('GET', '/api/demo/burnt-coil')).body.title).toBe('A burnt coil');
  });
  test('the page for people names every route, without script or inline style', async () => {
    const { ask } = testApp();
    const { body } = await ask('GET', '/api/docs');
    for (const r of routeList) expect(body).toContain(`${r.method.toUpperCase()} ${r.path}`);
    expect(body).not.toMatch(/<script|<style|style=/);
    expect((await ask('GET', '/api/page.css')).headers.get('content-type')).toContain('text/css');
  });
});

describe('one reading', () => {
  test.each([
    [{ check: 'coil-ohm', value: 9.8 }, 'good'],
    [{ check: 'coil-ohm', value: 'open' }, 'open'],
    [
      {
        check: 'coil-ohm',
        value: 3,
        unit: 'Ω',
        plate: { total_w: 5400, volts: 240 },
        meter: 'cheap',
        machine: 'dial-single-coil',
      },
      'low',
    ],
  ])('%o is %s, and no case is made', async (reading, verdict) => {
    const { body } = await testApp().ask('POST', '/api/reading', reading);
    expect(body.verdict).toBe(verdict);
  });
  test.each([
    [{ check: 'coil-ohm', value: -5 }, 422],
    [{ check: 'outlet-v', value: 4000 }, 422],
    [{ check: 'nothing', value: 1 }, 422],
    [{ check: 'coil-ohm' }, 400],
    [{ check: 'coil-ohm', value: 1, plate: { watts: 5 } }, 400],
    ['{"check":"coil-ohm","value":1e999}', 400],
  ])('%o is %d', async (reading, status) => {
    expect((await testApp().ask('POST', '/api/reading', reading)).status).toBe(status);
  });
});
