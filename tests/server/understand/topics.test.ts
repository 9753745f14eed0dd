import { describe, expect, test } from 'vitest';
import { topicsIn } from '../../../server/conversation/hear/topics.ts';
import { createConversation } from '../../../server/conversation/index.ts';
import { ourWords } from '../../../server/conversation/words/index.ts';
import type { Words } from '../../../server/conversation/words/shapes.ts';
import { speaker } from '../../../server/conversation/words/speaker.ts';
import { Case, k, text } from '../conversation/parts.ts';

const wordsOf = (language: string): Words => {
  const words = ourWords(k).find((w) => w.language === language);
  if (!words) throw new Error(`no words in ${language}`);
  return words;
};
const idsIn = (language: string, said: string): string[] => {
  const s = speaker(wordsOf(language), k, 'homeowner');
  const found = topicsIn(s, said);
  return s.words.general.topics.filter((t) => found.includes(s.to(t.says))).map((t) => t.id);
};

describe('what gets an answer wherever it comes up', () => {
  test.each([
    ['en', 'will rubber gloves keep me safe?', ['gloves']],
    ['en', 'can I jump out the fuse with a paper clip', ['bridging']],
    ['en', 'it runs on an extension cord', ['extension-cord']],
    ['en', 'it turns and stays cold', []],
    ['es', '¿me protegen unos guantes de cocina?', ['gloves']],
    ['es', 'quiero PUENTEAR el fusible', ['bridging']],
    ['es', 'mi cuñado dice que se puede puentearlo un momento', ['bridging']],
    ['es', 'está conectada con una extensión', ['extension-cord']],
    ['es', 'usa un cable de extensión', ['extension-cord']],
    ['es', 'con guantes voy a hacer un puente', ['gloves', 'bridging']],
    ['es', 'gira y no calienta', []],
    ['es', 'the gloves are off', []],
  ])('%s: "%s"', (language, said, ids) => expect(idsIn(language, said)).toEqual(ids));

  test('each topic of one language is a topic of the other', () => {
    const [en, es] = ['en', 'es'].map((l) =>
      wordsOf(l)
        .general.topics.map((t) => t.id)
        .sort(),
    );
    expect(es).toEqual(en);
  });

  test('in a Spanish case it is answered in Spanish, beside the question', async () => {
    const c = await Case.open(await createConversation(), 'homeowner');
    c.record = { ...c.record, settings: { ...c.record.settings, language: 'es' } };
    await c.tell('complaint', 'no-heat');
    const reply = await c.say('¿puedo usar guantes de cocina para tocar los cables?');
    expect(text(reply)).toContain('no protegen de una descarga');
    expect(reply.ask).toBeDefined();
  });
});
