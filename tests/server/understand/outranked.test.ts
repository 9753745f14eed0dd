import { describe, expect, test } from 'vitest';
import { understand } from '../../../server/understand/index.ts';
import { corpus } from '../../tools/train.ts';

/** Dangers heard in first words: fact -> value. */
const dangers = (text: string, audience: 'homeowner' | 'agent' | 'technician' = 'homeowner', lang = 'en') => {
  const { acts } = understand(text, undefined, audience, {}, lang as 'en');
  return new Map(acts.flatMap((a) => (a.is === 'hazard' ? [[a.fact, a.value] as const] : [])));
};

describe('of one danger told twice the one that is there now stands, whichever is told first', () => {
  const before = ['there was smoke yesterday', 'last week I saw flames in it'];
  const now = ['there is smoke coming out of it right now', 'it is on fire'];
  const cases = before.flatMap((b) => now.flatMap((n) => [`${b}, and ${n}`, `${n}, and ${b}`]));
  test.each(cases)('%s', (text) => expect(dangers(text).get('flame_or_smoke')).toBe('now'));
});

test.each([
  'I got a static shock from the socks',
  'only a static shock when I fold the sweaters',
  'a little static shock off the carpet',
])('a snap from cloth is no tingle from metal: %s', (text) => expect(dangers(text).get('shock_kind')).not.toBe('tingle'));

test('of the dangers that were learned from nine in ten are stopped or asked about', () => {
  // No measure of hearing, for these are the rows it learned from: it tells that what was learned still reaches the talk.
  const rows = corpus().filter((row, i) => row.meaning.danger?.length && i % 23 === 0);
  expect(rows.length).toBeGreaterThan(80);
  const silent = rows.filter((row) => {
    const { acts } = understand(row.text, undefined, row.audience, {}, row.lang as 'en');
    return !acts.some((a) => a.is === 'hazard' || a.is === 'suspected');
  });
  expect(silent.length / rows.length, silent.map((r) => r.text).join('\n')).toBeLessThan(0.1);
});
