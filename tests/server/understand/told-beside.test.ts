import { describe, expect, test } from 'vitest';
import { conversationOf } from '../../../server/conversation/create.ts';
import { understand } from '../../../server/understand/index.ts';
import { toldIn } from '../../answers.ts';
import { Case, k, words } from '../conversation/parts.ts';

const talk = conversationOf({ k, words, understand });
const open = async () => {
  const c = await Case.open(talk, 'technician');
  await c.tell('complaint', 'no-heat');
  return c;
};

describe('a reading told while another question is open', () => {
  test.each([
    ['L1 to L2 at the block reads 238 V running on high', { between_legs_heat: 238 }],
    ['leg to leg 240.5 V at rest', { between_legs_idle: 240.5 }],
    ['239.8 V leg to leg idle and 231 V leg to leg under load', { between_legs_idle: 239.8, between_legs_heat: 231 }],
    ['L1 to neutral at the outlet 120.4 V', { motor_leg_to_neutral_receptacle: 120.4 }],
    ['the other leg to neutral is 118 V under load', { other_leg_to_neutral_heat: 118 }],
  ])('"%s" is kept where its points and state say', async (said, facts) => {
    const c = await open();
    const reply = await c.say(said);
    expect(reply.ask?.check).not.toBe('which');
    for (const [fact, value] of Object.entries(facts)) expect(c.fact(fact), fact).toBe(value);
  });
  test.each(['leg to leg 240 V', '22.5 A', '240 V'])(
    '"%s" may be several readings, so it is asked back and none is kept',
    async (said) => {
      const c = await open();
      const before = toldIn(c.record.answers).filter(([, value]) => typeof value === 'number').length;
      const reply = await c.say(said);
      expect(reply.ask?.check).toBe('which');
      expect(toldIn(c.record.answers).filter(([, value]) => typeof value === 'number').length).toBe(before);
    },
  );
  test('what was read under load is no reading at rest, even if just that was asked', async () => {
    const c = await open();
    await c.say('leg to leg 231 V under load');
    expect(c.fact('between_legs_heat')).toBe(231);
    expect(c.fact('between_legs_idle')).toBeUndefined();
  });
});
