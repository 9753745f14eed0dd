import { expect, test } from 'vitest';
import { prepare } from '../../../../rules/index.ts';
import type { MachineInHand } from '../../../../rules/types.ts';
import { preparedMemo } from '../../../../server/conversation/stand/prepared.ts';
import { k } from '../parts.ts';

const machine = (total_w: number): MachineInHand => ({
  circuits: ['dial-single-coil'],
  plate: { volts: 240, total_w },
  hookup: 'four-wire',
  meter: [...k.meters.keys()][0]!,
  system: k.supply.systems[0]!.id,
});
const all = (p: ReturnType<typeof prepare>) =>
  JSON.stringify(
    [...k.checks.values()].flatMap((c) => [p.expected(c.id, []), p.expected(c.id, ['element-open']), p.expected(c.id, [], 0.97)]),
  );

test('cold and warm give the same, to the byte', () => {
  const memo = preparedMemo(k);
  const cold = all(memo(machine(5400)));
  const warm = all(memo(machine(5400)));
  expect(warm).toBe(cold);
  expect(all(prepare(k, machine(5400)))).toBe(cold);
});
test('the same machine is solved once, whatever the order of its keys', () => {
  const memo = preparedMemo(k);
  const { plate, ...rest } = machine(5400);
  expect(memo({ plate: { total_w: plate.total_w!, volts: plate.volts! }, ...rest })).toBe(memo(machine(5400)));
});
test('no more are kept than said; the one used longest ago goes', () => {
  const memo = preparedMemo(k, 2);
  const [a, b] = [memo(machine(5000)), memo(machine(5100))];
  expect(memo(machine(5000))).toBe(a);
  memo(machine(5200));
  expect(memo(machine(5000))).toBe(a);
  expect(memo(machine(5100))).not.toBe(b);
});
