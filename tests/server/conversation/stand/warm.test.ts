import { expect, test } from 'vitest';
import { knowledge, prepare } from '../../../../rules/index.ts';
import type { MachineInHand, Prepared } from '../../../../rules/types.ts';
import { preparedMemo } from '../../../../server/conversation/stand/prepared.ts';
import { stand } from '../../../../server/conversation/stand/standing.ts';
import { warm } from '../../../../server/conversation/stand/warm.ts';

test('whoever comes first finds the common machines solved, and hears the same as on a cold start', async () => {
  const k = knowledge();
  const memo = preparedMemo(k);
  const asked = new Set<Prepared>();
  const spied = (hand: MachineInHand) => {
    const p = memo(hand);
    asked.add(p);
    return p;
  };
  let steps = 0;
  await warm(k, spied, async () => void steps++);
  expect(steps).toBeGreaterThan(k.families.size * (1 + k.machines.size));
  const known = new Set(asked);
  for (const audience of ['homeowner', 'agent'] as const) {
    const record = { audience, settings: { families: ['no-heat'] }, answers: [] };
    const warmed = await stand({ k, prepared: spied }, record);
    const cold = await stand({ k, prepared: (hand) => prepare(k, hand) }, record);
    expect(warmed.c).toEqual(cold.c);
  }
  expect([...asked].filter((p) => !known.has(p))).toEqual([]);
});
