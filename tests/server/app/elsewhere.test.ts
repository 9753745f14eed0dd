import { describe, expect, test } from 'vitest';
import { testApp } from './ask.ts';

const ID = 'made-where-no-network-was-1';

describe('a case opened under an id of the caller’s own', () => {
  test('is opened once, however often that is sent', async () => {
    const { ask } = testApp();
    const first = await ask('PUT', `/api/cases/${ID}`, { audience: 'agent', units: 'metric' });
    expect([first.status, first.body.case.id, first.body.case.rev]).toEqual([201, ID, 1]);
    await ask('POST', `/api/cases/${ID}/say`, { text: 'coil 9', turn: 'turn-0001' });
    const again = await ask('PUT', `/api/cases/${ID}`, { audience: 'agent', units: 'metric' });
    expect([again.status, again.body]).toEqual([200, first.body]);
    expect((await ask('GET', `/api/cases/${ID}`)).body.case.rev).toBe(2);
  });

  test('is refused where another case has that id', async () => {
    const { ask } = testApp();
    await ask('PUT', `/api/cases/${ID}`, { audience: 'agent' });
    const other = await ask('PUT', `/api/cases/${ID}`, { audience: 'technician' });
    expect([other.status, other.body.error.code]).toEqual([409, 'id-taken']);
  });

  test.each(['short', 'x'.repeat(65), 'with-a-dot.in-it-0123456789'])('is refused under the id %s', async (id) => {
    const { ask } = testApp();
    expect((await ask('PUT', `/api/cases/${id}`, { audience: 'agent' })).status).toBe(400);
  });

  test('keeps when it was opened, but never a time to come', async () => {
    const { ask } = testApp();
    const opened = async (id: string, at: string) => {
      await ask('PUT', `/api/cases/${id}`, { audience: 'agent', opened: at });
      return (await ask('GET', `/api/cases/${id}/turns`)).body.opened;
    };
    expect(await opened(`${ID}-a`, '2026-03-04T01:00:00.000Z')).toBe('2026-03-04T01:00:00.000Z');
    expect(await opened(`${ID}-b`, '2036-03-04T01:00:00.000Z')).toBe('2026-03-04T05:06:07.000Z');
    expect((await ask('PUT', `/api/cases/${ID}-c`, { audience: 'agent', opened: 'yesterday' })).status).toBe(400);
  });
});

describe('a case turn by turn', () => {
  test('is all that another store needs, from the start or from a revision', async () => {
    const { ask, open } = testApp();
    const id = await open();
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 9', turn: 'turn-0001' });
    await ask('POST', `/api/cases/${id}/say`, { text: 'coil 8' });
    const all = await ask('GET', `/api/cases/${id}/turns`);
    expect(all.body.turns.map((t: { rev: number; key?: string }) => [t.rev, t.key])).toEqual([
      [1, undefined],
      [2, 'turn-0001'],
      [3, undefined],
    ]);
    const rest = await ask('GET', `/api/cases/${id}/turns?after=2`);
    expect(rest.body.turns).toEqual(all.body.turns.slice(2));
    expect((await ask('GET', '/api/cases/nobody/turns')).status).toBe(404);
    expect((await ask('GET', `/api/cases/${id}/turns?after=x`)).status).toBe(400);
  });
});
