import { expect, test } from 'vitest';
import { knowledge, prepare } from '../../../../rules/index.ts';
import { pointWords } from '../../../../server/conversation/stand/points.ts';
import type { Saying } from '../../../../server/conversation/stand/said.ts';
import { ourWords } from '../../../../server/conversation/words/index.ts';
import { wordsBy } from '../../../../server/conversation/words/shapes.ts';
import { speaker } from '../../../../server/conversation/words/speaker.ts';

const k = knowledge();
const s = speaker(wordsBy(ourWords(k))('en'), k, 'technician');
const saying = (variants: string[]): Saying => {
  const hand = {
    ...{ circuits: ['dial-single-coil'], plate: {}, hookup: 'four-wire' as const, variants },
    ...{ meter: [...k.meters.keys()][0]!, system: k.supply.systems[0]!.id },
  };
  return { k, s, at: { hand, p: prepare(k, hand) } } as unknown as Saying;
};

test('a machine built as drawn has the words of its drawing; one built otherwise the names of its own points', () => {
  expect(pointWords(saying([]), 'cut_off_ohms', ['HL2', 'CO'])).toBe('joint of limit and cut-off to coil end');
  const otherwise = pointWords(saying(['limit-on-motor-side']), 'cut_off_ohms', ['HL2', 'CO']);
  expect(otherwise).not.toContain('coil end');
  for (const id of ['HL2', 'CO']) {
    const { name } = k.machines.get('dial-single-coil')!.nodes.find((n) => n.id === id) ?? { name: '' };
    if (name) expect(otherwise).toContain(name);
  }
});
