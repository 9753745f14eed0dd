import { describe, expect, test } from 'vitest';
import { createConversation } from '../../../server/conversation/index.ts';
import english from '../../../server/conversation/words/en/general.json' with { type: 'json' };
import spanish from '../../../server/conversation/words/es/general.json' with { type: 'json' };
import { toldIn } from '../../answers.ts';
import { Case, text } from '../conversation/parts.ts';

const talk = await createConversation();
const SUPPORTED = [english.general.talk.language.homeowner, spanish.general.talk.language];

/** The list of dangers is open, and nothing else was said. */
async function atTheDangers(): Promise<Case> {
  const c = await Case.open(talk, 'homeowner');
  await c.tell('complaint', 'no-heat');
  expect(c.last.reply.ask?.kind).toBe('many');
  expect(c.last.reply.ask?.choices.map((x) => x.id)).toContain('gas-smell-or-hiss');
  return c;
}

const FOREIGN: [string, string[]][] = [
  ['French', ['ça sent le gaz', 'il y a de la fumée dans la machine', 'ma sécheuse ne chauffe pas', 'au feu']],
  ['German', ['es riecht nach Gas', 'es kommt Rauch aus dem Trockner', 'der Trockner heizt nicht', 'Feuer!']],
  ['Portuguese', ['há fumaça saindo da secadora', 'está pegando fogo', 'minha secadora não esquenta', 'fogo']],
  ['Vietnamese', ['có mùi khét và khói', 'máy sấy có mùi khí ga', 'máy sấy của tôi không nóng']],
  ['Chinese', ['烘干机冒烟了', '有煤气味', '烘干机不热了']],
  ['Russian', ['пахнет газом', 'из сушилки идёт дым', 'сушилка не греет']],
];
describe.each(FOREIGN)('%s, which is none of ours', (_, said) => {
  test.each(said)('"%s" is told what is supported, and no danger is taken as "none"', async (words) => {
    const c = await atTheDangers();
    const before = c.record.answers.length;
    const reply = await c.say(words);
    // the languages are named, in one of them
    expect(SUPPORTED.filter((s) => text(reply).includes(s))).toHaveLength(1);
    // nothing was kept but that it was said
    expect(toldIn(c.record.answers.slice(before))).toEqual([]);
    // the same question stands
    expect(reply.ask?.kind).toBe('many');
    expect(reply.ask?.choices.map((x) => x.id)).toContain('gas-smell-or-hiss');
    expect(c.record.settings.language ?? 'en').toBe('en');
  });
});
