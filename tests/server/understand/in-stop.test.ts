import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import { ANY, heardInStop, NEXT, understand } from '../../../server/understand/index.ts';
import { LANGUAGES } from '../../../server/understand/lexicon/languages.ts';
import { lexiconOf } from '../../../server/understand/lexicon.ts';

const k = knowledge();
type Said = Record<'asks' | 'done', Record<string, string[]>>;
/** Questions and acts by kind, in wordings that stand nowhere in the lexicon. */
const told = JSON.parse(readFileSync('tests/data/asked-in-a-stop.json', 'utf8')) as Record<string, Said>;

describe.each(Object.keys(LANGUAGES))('while a stop stands, in %s', (language) => {
  const { data } = lexiconOf(language);
  const entries = data.entries.talk;
  const kinds = (talk: string) => new Set(entries.flatMap((e) => (e.talk === talk && e.of ? [e.of] : [])));
  const said = told[language]!;

  test('every question and every act of the knowledge can be heard, and none besides', () => {
    expect([...kinds('in-stop')].sort()).toEqual([...k.stopQuestions.keys(), NEXT].sort());
    expect([...kinds('done-in-stop')].sort()).toEqual([...k.stopActs.keys()].sort());
    expect([...kinds('in-stop-hint')].filter((id) => !k.stopQuestions.has(id))).toEqual([]);
  });
  test('each is written down in twelve wordings or more', () => {
    const few = entries.filter((e) => (e.talk === 'in-stop' || e.talk === 'done-in-stop') && e.yes.length < 12);
    expect(few.map((e) => `${e.id}: ${e.yes.length}`)).toEqual([]);
  });
  test('there are other wordings of each kind, forty and more in all', () => {
    const examples = new Set(entries.flatMap((e) => e.yes.map((text) => text.toLowerCase())));
    const all = Object.values(said.asks).flat();
    expect(all.length).toBeGreaterThanOrEqual(40);
    expect([...k.stopQuestions.keys()].filter((id) => !said.asks[id]?.length)).toEqual(language === 'es' ? ['open-windows'] : []);
    expect([...all, ...Object.values(said.done).flat()].filter((text) => examples.has(text.toLowerCase()))).toEqual([]);
  });
  describe.each(Object.entries(said.asks))('%s is asked', (kind, texts) => {
    test.each(texts)('"%s"', (text) => expect(heardInStop(text, language).asks).toContain(kind));
  });
  describe.each(Object.entries(said.done))('%s is told', (act, texts) => {
    test.each(texts)('"%s"', (text) => expect(heardInStop(text, language).done).toContain(act));
  });
});

test.each([
  ['en', 'is the breaker off'],
  ['en', 'breaker off?'],
  ['en', 'I think the breaker is off'],
  ['en', 'the breaker is not off'],
  ['en', "I can't turn the breaker off"],
  ['en', 'do I say that the breaker is off'],
  ['es', '¿el breaker está apagado?'],
  ['es', 'creo que el breaker está apagado'],
  ['es', 'el breaker no está apagado'],
  ['es', 'apago el breaker'],
])('%s: "%s" ticks nothing', (language, text) => expect(heardInStop(text, language).done).toEqual([]));

test.each([
  ['en', 'the breaker is off, can I unplug it now', ['unplug'], ['breaker-off']],
  ['en', 'who do I call and what do I tell them', ['who-to-call', 'what-to-tell'], []],
  ['en', 'ok the breaker is off what now', [NEXT], ['breaker-off']],
  ['en', 'why do we have to go outside', ['why'], []],
  ['es', '¿a quién llamo y qué les digo?', ['who-to-call', 'what-to-tell'], []],
  ['es', 'ya bajé el breaker, ¿y ahora qué?', [NEXT], ['breaker-off']],
])('%s: "%s" is heard whole', (language, text, asks, done) => expect(heardInStop(text, language)).toEqual({ asks, done }));

test.each([
  ['en', 'it is cold'],
  ['en', 'my name is Bob'],
  ['en', '240 V leg to leg'],
  ['en', 'ok'],
  ['es', 'está fría'],
])('%s: "%s" asks nothing', (language, text) => expect(heardInStop(text, language)).toEqual({ asks: [], done: [] }));

test('whatever is asked and is of no kind is a question all the same', () => {
  for (const text of ['would the neighbours mind?', 'is Tuesday fine', 'so what colour is it'])
    expect(heardInStop(text, 'en').asks, text).toEqual([ANY]);
});

test('nothing of it is heard as talk where no stop stands', () => {
  for (const language of Object.keys(LANGUAGES))
    for (const text of Object.values(told[language]!.asks).flat())
      for (const act of understand(text, undefined, 'homeowner', {}, language).acts)
        if (act.is === 'talk') expect(act.what, text).not.toMatch(/in-stop/);
});

test.each([
  ['en', 'are you a robot'],
  ['en', 'am I talking to a real person?'],
  ['en', 'is this a bot'],
  ['en', 'who are you'],
  ['en', 'is there a human there'],
  ['en', 'r u ai'],
  ['es', '¿eres un robot?'],
  ['es', '¿hablo con una persona?'],
  ['es', '¿hay alguien ahí?'],
  ['es', '¿quién es usted?'],
])('%s: "%s" asks who answers, and thanks nobody', (language, text) => {
  const talk = understand(text, undefined, 'homeowner', {}, language).acts.flatMap((a) => (a.is === 'talk' ? [a.what] : []));
  expect(talk).toContain('robot');
  expect(talk).not.toContain('thanks');
  expect(talk).not.toContain('person');
});
