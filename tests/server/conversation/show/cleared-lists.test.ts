import { expect, test } from 'vitest';
import { knowledge } from '../../../../rules/index.ts';
import { clearedLists } from '../../../../server/conversation/show/sheet-readings.ts';

const k = knowledge();
const list = [...k.checks.values()].find((c) => c.kind === 'gate' && c.choices?.none && c.settles.length > 2)!;
const none = list.choices!.none!;
const cleared = (answers: Record<string, string>) => {
  const readings = Object.entries(answers).map(([fact, value]) => ({ fact, value }));
  const x = { k, s: { checkName: (id: string) => id }, at: { facts: { readings } } };
  return clearedLists(x as never, readings as never);
};

test('a list of dangers is clear on the sheet only where every one of its lines is', () => {
  expect(cleared(none)).toEqual({ clear: [list.id], rest: [] });
  const [first, ...others] = list.settles;
  const told = { ...none, [first!]: 'told' };
  expect(cleared(told)).toEqual({ clear: [], rest: [{ fact: first, value: 'told' }] });
  // Not answered is not clear.
  expect(cleared(Object.fromEntries(others.map((fact) => [fact, none[fact]!]))).clear).toEqual([]);
});
