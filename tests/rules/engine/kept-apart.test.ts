import { describe, expect, test } from 'vitest';
import { legsRead } from '../../../rules/engine/legs.ts';
import { useOf } from '../../../rules/engine/referral.ts';
import { explains, foldCase, knowledge, prepare } from '../../../rules/index.ts';
import type { Reading } from '../../../rules/types.ts';
import { DIAL_IN_HAND } from './in-hand.ts';

/** Things that look alike and must not be taken for each other. */
const k = knowledge();
const reading = (value: number, more: Partial<Reading> = {}): Reading => ({
  ...{ seq: 1, fact: 'ohms_between', check: 'two-points', state: 'unplugged-off', said: '', by: 'technician', value },
  ...more,
});

describe('two legs', () => {
  const read = (a: number, b: number, whole: number) => legsRead(k, { parts: [reading(a), reading(b)], whole: reading(whole) });
  test('one leg with nothing is dead, whatever the other has; two that only stand apart are not', () => {
    expect(read(240, 0, 240).dead).toBe(true);
    expect(read(0, 120, 120).dead).toBe(true);
    expect(read(160, 80, 240)).toMatchObject({ dead: false, apart: true, sums: true });
  });
});

test('a plate put right later stands, and what was told of it before and not again stays', () => {
  const f = foldCase(k, { audience: 'technician', families: ['no-heat'], units: 'us' }, [
    { act: 'set', set: { machine: { plate: { volts: 208, heater_w: 4000 } } }, seq: 1, turn: 1, said: '', by: 'technician' },
    { act: 'set', set: { machine: { plate: { volts: 240 } } }, seq: 2, turn: 2, said: '', by: 'technician' },
  ]);
  expect(f.machine.plate).toEqual({ volts: 240, heater_w: 4000 });
});

test('many small suspects that bar its use bar it together, though none of them would alone', () => {
  const least = k.limits.get('lowest-trade-share')!.lo;
  const of = (mayUse: string) => [...k.faults.values()].find((f) => f.end.mayUse === mayUse)!.id;
  const suspect = (fault: string, share: number) =>
    ({ faults: [fault], share, live: true, misreads: 0, for: [], against: [], confirmedBy: [] }) as never;
  // What bars it and what only limits it are each under the least share, and over it together: then it is limited.
  const half = least * 0.6;
  expect(useOf(k, [suspect(of('no'), half), suspect(of('limited'), half), suspect(of('yes'), 1 - 2 * half)])).toBe('limited');
  expect(useOf(k, [suspect(of('no'), half), suspect(of('yes'), 1 - half)])).toBe('yes');
});

test('the same ohms between two other points are another reading', () => {
  const p = prepare(k, DIAL_IN_HAND);
  const across = (points: [string, string]) =>
    explains(p, ['cycling-thermostat-open'], reading(10, { points, state: 'unplugged-heat' }));
  // Ten ohms across the coil go with an open thermostat; across the thermostat itself they do not.
  const pairs: [string, string][] = [];
  const points = p.circuits[0]!.nodes.filter((n) => n.covers.length).map((n) => n.id);
  for (const [i, a] of points.entries()) for (const b of points.slice(i + 1)) pairs.push([a, b]);
  const together = pairs.map(across);
  expect(together).toContain(true);
  expect(together).toContain(false);
  const alone = pairs.map((points) =>
    explains(prepare(k, DIAL_IN_HAND), ['cycling-thermostat-open'], reading(10, { points, state: 'unplugged-heat' })),
  );
  expect(together).toEqual(alone);
});
