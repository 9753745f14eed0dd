import { describe, expect, test } from 'vitest';
import { conversationOf } from '../../../server/conversation/create.ts';
import { understand } from '../../../server/understand/index.ts';
import { toldIn } from '../../answers.ts';
import { Case, k, text, throughGates, words } from '../conversation/parts.ts';

const talk = conversationOf({ k, words, understand });
const open = async (who: 'homeowner' | 'agent' | 'technician' = 'technician') => {
  const c = await Case.open(talk, who);
  await c.tell('complaint', 'no-heat');
  return c;
};
const signs = (c: Case) => c.last.reply.consultation.stops.map((s) => s.sign);
const value = (c: Case, fact: string) => c.last.view.answers.findLast((a) => a.fact === fact)?.shown;

describe('"that was the other side"', () => {
  test('moves a reading to its partner leg', async () => {
    const c = await open();
    await throughGates(c);
    await c.say('motor leg to neutral at the outlet 118 V');
    expect(c.fact('motor_leg_to_neutral_receptacle')).toBe(118);
    await c.say('no, that was the other leg');
    expect(c.fact('other_leg_to_neutral_receptacle')).toBe(118);
    expect(c.fact('motor_leg_to_neutral_receptacle')).toBeUndefined();
  });
  test('makes two change places', async () => {
    const c = await open();
    await throughGates(c);
    await c.say('motor leg to neutral 118 V and other leg to neutral 0 V at rest');
    expect([c.fact('motor_leg_to_neutral_idle'), c.fact('other_leg_to_neutral_idle')]).toEqual([118, 0]);
    await c.say('sorry, I mixed up the legs');
    expect([c.fact('motor_leg_to_neutral_idle'), c.fact('other_leg_to_neutral_idle')]).toEqual([0, 118]);
  });
  test('of a reading that has no other side is asked about, and nothing moves', async () => {
    const c = await open();
    await throughGates(c);
    await c.say('motor leg to neutral at the outlet 118 V');
    await c.say('leg to leg 240.5 V at rest');
    const reply = await c.say('that was the other side');
    expect(text(reply, 'explain')).toMatch(/which answer is wrong/);
    expect([c.fact('motor_leg_to_neutral_receptacle'), c.fact('between_legs_idle')]).toEqual([118, 240.5]);
  });
});

describe('a correction in passing answers the open question too', () => {
  test.each([
    ['no wait, it was warm then cold', 'warm then cold'],
    ['sorry, I meant warm then cold', 'warm then cold'],
  ])('"%s"', async (said, shown) => {
    const c = await open();
    let reply = await throughGates(c);
    for (let i = 0; i < 30 && reply.ask?.check !== 'ask-warmth'; i++) reply = await c.say('later');
    await c.say(said);
    expect(value(c, 'warmth')).toBe(shown);
  });
});

describe('a danger taken back in words', () => {
  test.each([
    'scratch that, no gas smell, it was paint',
    'sorry, there is no gas smell',
    'actually it was not gas',
    'my mistake, no smell of gas',
  ])('"%s" is read back before it counts', async (said) => {
    const c = await open('homeowner');
    await c.say('I smell gas');
    expect(signs(c)).toEqual(['gas-smell']);
    const reply = await c.say(said);
    expect(reply.ask?.check).toBe('read-back');
    expect(signs(c)).toEqual(['gas-smell']);
    await c.say('yes, that is right');
    expect(signs(c)).toEqual([]);
  });
  test('the denial of another danger takes back none', async () => {
    const c = await open('homeowner');
    await c.say('I smell gas');
    const reply = await c.say('there is no water anywhere');
    expect(reply.ask).toBeUndefined();
    expect(signs(c)).toEqual(['gas-smell']);
  });
});

describe('"can I use it" while a danger stands', () => {
  test.each(['can I use it', 'is it safe to run it anyway', 'could we still use the dryer tonight'])(
    '"%s": no, and why',
    async (said) => {
      const c = await open('homeowner');
      await c.say('there is a burning smell');
      const reply = await c.say(said);
      expect(reply.parts[0]).toMatchObject({ kind: 'stop' });
      expect(reply.parts[0]!.text).toMatch(/do not|not be used|leave/i);
      expect(text(reply)).toMatch(/The stop still stands: burning smell/);
    },
  );
});

describe('readings of the supply told under another question', () => {
  const supply = (c: Case, at: string) =>
    ['between_legs', 'motor_leg_to_neutral', 'other_leg_to_neutral'].map((f) => c.fact(`${f}_${at}`));
  test.each(['240 120 120', '240, 120, 120', '240/120/120'])('"%s": where is asked once, for all three', async (said) => {
    const c = await open();
    await throughGates(c);
    const reply = await c.say(said);
    expect(reply.ask?.check).toBe('which');
    expect(reply.ask?.choices.length).toBe(3);
    await c.say('1');
    expect(supply(c, 'receptacle')).toEqual([240, 120, 120]);
  });
  test('"240 at the block, 120 each leg": at rest or with heat is asked', async () => {
    const c = await open();
    await throughGates(c);
    const reply = await c.say('240 at the block, 120 each leg');
    expect(reply.ask?.choices.map((x) => x.label)).toEqual(['supply at block idle', 'supply at block heat']);
    await c.say('the second one');
    expect(supply(c, 'heat')).toEqual([240, 120, 120]);
  });
  test('"leg to leg at the outlet" is just that', async () => {
    const c = await open();
    await throughGates(c);
    const reply = await c.say('240 leg to leg at the outlet');
    expect(reply.ask?.check).not.toBe('which');
    expect(c.fact('between_legs_receptacle')).toBe(240);
  });
  test('where one leg is dead it is asked which, with both ways round', async () => {
    const c = await open();
    await throughGates(c);
    const reply = await c.say('120 V to neutral on the left, 0 V on the right, at rest');
    expect(reply.ask?.choices.length).toBe(2);
    expect(supply(c, 'idle')).toEqual([undefined, undefined, undefined]);
    await c.say('2');
    expect(supply(c, 'idle')).toEqual([undefined, 0, 120]);
  });
  test('one bare number is none', async () => {
    const c = await open();
    await throughGates(c);
    await c.say('240');
    expect(toldIn(c.last.added)).toEqual([]);
  });
});

describe('a list of dangers', () => {
  test('"no gas smell at all" denies that one, and the rest is asked on', async () => {
    const c = await open('homeowner');
    const reply = await c.say('no gas smell at all');
    expect(toldIn(c.last.added)).toEqual([['gas_smell', 'no']]);
    expect(reply.ask?.check).toBe('gate-now');
  });
  test('a number said in words is no place in a list that has no numbers', async () => {
    const c = await open('homeowner');
    await c.say('four');
    expect(toldIn(c.last.added)).toEqual([]);
    expect(signs(c)).toEqual([]);
  });
});

test('the question is put again after every reprompt, and no prompt comes twice running', async () => {
  const c = await open('homeowner');
  await c.say('none');
  const asks: string[] = [];
  for (let i = 0; i < 9; i++) {
    const reply = await c.say(`zzgh qwx ${i}`);
    asks.push(text(reply, 'ask'));
    expect(asks.at(-1)).toContain(`Please do ${reply.ask!.check.replaceAll('-', ' ')}.`);
  }
  for (let i = 1; i < asks.length; i++) expect(asks[i]).not.toBe(asks[i - 1]);
});
