import { describe, expect, test } from 'vitest';
import { createConversation } from '../../../server/conversation/index.ts';
import { Case } from '../conversation/parts.ts';

const talk = createConversation();
const OPENING = ['the drum turns and the air is cold', 'none', 'electric with a hose'];

/** A homeowner before the long list of danger signs says this. @returns the case after it */
async function said(text: string): Promise<Case> {
  const c = await Case.open(await talk, 'homeowner');
  for (const words of [...OPENING, text]) await c.say(words);
  return c;
}

describe('before the long list of danger signs', () => {
  test.each(['the drum is stainless, by the way', 'the light in the drum', 'drum', 'it does not heat'])(
    '%j names none of them: nothing is told, the list stays open',
    async (text) => {
      const c = await said(text);
      expect(c.last.added.filter((a) => a.act === 'tell')).toEqual([]);
      expect(c.last.reply.ask?.check).toBe('gate-signs');
    },
  );

  test.each([
    ['a smell', ['A burning smell, kind unknown', 'A smell of hot rubber']],
    ['the breaker', ['The breaker tripped again', 'The breaker will not stay on']],
    ['the cord', ['The cord is cut or bare', 'It is on an extension cord']],
    ['breaker tripped', ['The breaker tripped again', 'The breaker tripped once, then held']],
  ])('%j names a line: which of those under it is asked', async (text, some) => {
    const c = await said(text);
    expect(c.last.added.filter((a) => a.act === 'tell')).toEqual([]);
    expect(c.last.reply.ask?.check).toBe('which');
    const offered = c.last.reply.ask!.choices.map(({ label }) => label);
    for (const label of some) expect(offered).toContain(label);
  });

  test.each([
    ['it is on an extension cord', 'cord_state', 'extension-cord'],
    ['it tripped twice', 'breaker_trip', 'again-after-reset'],
    ['half the house is out', 'house_lights', 'half-out'],
  ])('%j is told', async (text, fact, value) => {
    const c = await said(text);
    expect(c.last.added).toContainEqual(expect.objectContaining({ fact, value, act: 'tell' }));
  });
});
