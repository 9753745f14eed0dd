import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../../rules/index.ts';
import { ourWords, rawFiles } from '../../../../server/conversation/words/index.ts';
import { loadWords, WordsError } from '../../../../server/conversation/words/load.ts';
import { listed, speaker } from '../../../../server/conversation/words/speaker.ts';
import { isLanguage, languageFor, wantedIn } from '../../../../server/languages.ts';

const k = knowledge();
const [first, spanish] = ourWords(k);
// biome-ignore lint/suspicious/noExplicitAny: any place of any file is spoilt here
type Json = Record<string, any>;

function problemsOf(spoil: (file: (name: string) => Json) => void): readonly string[] {
  const copy = structuredClone(rawFiles('es'));
  spoil((name) => copy[`./es/${name}.json`] as Json);
  try {
    loadWords(copy, k, { language: 'es', first: first! });
  } catch (e) {
    if (e instanceof WordsError) return e.problems;
    throw e;
  }
  return [];
}

describe('Spanish is whole, or the program does not start', () => {
  test('as it stands it is', () => expect(problemsOf(() => undefined)).toEqual([]));
  test.each<[string, (f: (name: string) => Json) => void, string]>([
    ['a question', (f) => delete f('checks').checks['ask-slots'], 'es/checks.json, check "ask-slots": has no words'],
    ['how to do it', (f) => delete f('checks').checks['run-5-min'].how, 'es/checks.json, check "run-5-min", how: has no words'],
    [
      'the line read to a caller',
      (f) => delete f('checks').checks['gate-now'].script,
      'es/checks.json, check "gate-now", script: has no words',
    ],
    [
      'an entry of a list',
      (f) => delete f('checks').checks['gate-now'].choices.none,
      'es/checks.json, check "gate-now", choice "none": has no words',
    ],
    [
      'the name of what only technicians are asked',
      (f) => delete f('checks').checkNames['coil-ohms'],
      'es/checks.json, check name "coil-ohms": has no words',
    ],
    ['a fact', (f) => delete f('facts').facts.coil_ohms, 'es/facts.json, fact "coil_ohms": has no words'],
    [
      'a choice',
      (f) => delete f('facts').facts.warmth.choices['never-warm'],
      'es/facts.json, fact "warmth", choice "never-warm": has no words',
    ],
    [
      'what a reading means',
      (f) => delete f('facts').facts.selector_ohms.means.open,
      'es/facts.json, fact "selector_ohms", means "open": has no words',
    ],
    [
      'where the leads go',
      (f) => delete f('facts').facts.selector_ohms.points['*'],
      'es/facts.json, fact "selector_ohms", points "*": has no words',
    ],
    ['a fault', (f) => delete f('faults').faults['belt-worn'], 'es/faults.json, fault "belt-worn": has no words'],
    ['a stop', (f) => delete f('stops').stops['fire-now'], 'es/stops.json, stop "fire-now": has no words'],
    [
      'the sign of a stop',
      (f) => delete f('stops').stops['fire-now'].title,
      'es/stops.json, stop "fire-now", title: has no words',
    ],
    [
      'a line of a stop',
      (f) => f('stops').stops['fire-now'].sayNow.default.pop(),
      'es/stops.json, stop "fire-now", default 5, text: has no words',
    ],
    [
      'a line while gas is not cleared',
      (f) => delete f('stops').stops['fire-now'].sayNow.default[3].gasUnknown,
      'es/stops.json, stop "fire-now", default 4, gasUnknown: has no words',
    ],
    [
      'a line where gas forbids the other',
      (f) => delete f('stops').stops.tingle.sayNow.AU[2].otherwise,
      'es/stops.json, stop "tingle", AU 3, otherwise: has no words',
    ],
    [
      'a region of a stop',
      (f) => delete f('stops').stops['gas-smell'].sayNow.GB,
      'es/stops.json, stop "gas-smell", sayNow "GB": has no words',
    ],
    [
      'a family',
      (f) => delete f('names').names['It makes a noise'],
      'es/names.json, name "It makes a noise" (families.json, family "noise", title): has no words',
    ],
    [
      'a part',
      (f) => delete f('names').names['drum belt'],
      'es/names.json, name "drum belt" (faults.json, fault "belt-broken", end.parts): has no words',
    ],
    [
      'a number to call in words',
      (f) => delete f('names').names['the emergency number'],
      'es/names.json, name "the emergency number" (stops.json, numbers.emergency): has no words',
    ],
    [
      'a field of the job sheet',
      (f) => delete f('names').names['Best number'],
      'es/names.json, name "Best number" (job-fields.json, field "contact_number"): has no words',
    ],
    ['why a stop is one', (f) => delete f('stops').stops.water.why, 'es/stops.json, stop "water", why: has no words'],
    [
      'an answer while a stop stands',
      (f) => delete f('stop-answers').stopAnswers.unplug.hot,
      'es/stop-answers.json, stop answers to "unplug": "hot": has no words',
    ],
    [
      'an answer while gas is not ruled out',
      (f) => delete f('stop-answers').stopAnswers.unplug.now.gasUnknown,
      'es/stop-answers.json, answer "unplug", "now", gasUnknown: has no words',
    ],
    [
      'what is said of something done',
      (f) => delete f('stop-answers').stopDone.out,
      'es/stop-answers.json, stop act done "out": has no words',
    ],
    ['a caution', (f) => delete f('general').general.cautions.attended, 'es/general.json, caution "attended": has no words'],
    ['a trade', (f) => delete f('general').general.trades.duct, 'es/general.json, trade "duct": has no words'],
    ['a topic', (f) => f('general').general.topics.shift(), 'es/general.json, topic "gloves": has no words'],
    ['a sentence', (f) => delete f('general').general.say['stop-close'], 'es/general.json, say "stop-close": has no words'],
  ])('%s that is missing is named with its file', (_, spoil, problem) => {
    // Where a name is near, it is offered.
    expect(problemsOf(spoil).map((said) => said.replace(/; did you mean "[^"]*"\?$/, ''))).toContain(problem);
  });
  test('a stop that loses its number, a text that puts in something else, and words of nothing are told', () => {
    expect(
      problemsOf((f) => {
        f('stops').stops['fire-now'].sayNow.default[2].text = 'Llame.';
        f('general').general.say['rules-out'] = 'Eso descarta algo.';
        f('names').names['a thing'] = 'una cosa';
      }),
    ).toEqual([
      'es/names.json, name "a thing": nothing is called so',
      'es/stops.json, stop "fire-now", default 3, text: puts in nothing, not {emergency}',
      'es/general.json, say "rules-out": puts in nothing where the first language puts in {list}',
    ]);
  });
  test('a text for one of the two audiences alone, or for a technician, is refused', () => {
    const alone = problemsOf((f) => (f('faults').faults['belt-worn'].label = { homeowner: 'x' }));
    expect(alone[0]).toMatch(/^\.\/es\/faults\.json, faults\.belt-worn\.label/);
    const technician = problemsOf((f) => (f('faults').faults['belt-worn'].label = { technician: 'x' }));
    expect(technician).toEqual(['es/faults.json "belt-worn" "label": a technician is not spoken to in this language']);
  });
});

describe('which language', () => {
  test.each([
    ['es', 'es'],
    ['es-MX,es;q=0.9,en;q=0.8', 'es'],
    ['en-US,en;q=0.9,es;q=0.8', 'en'],
    ['de-DE,es;q=0.4,en;q=0.3', 'es'],
    ['en;q=0.2,es;q=0.7', 'es'],
    ['es;q=0,en', 'en'],
    ['fr', undefined],
    ['*', undefined],
    ['', undefined],
    [undefined, undefined],
    ['constructor, __proto__', undefined],
  ])('Accept-Language %s -> %s', (header, tag) => expect(wantedIn(header)).toBe(tag));
  test('a technician is spoken to in the first language, and nobody in one that is not ours', () => {
    expect((['homeowner', 'agent', 'technician'] as const).map((a) => languageFor('es', a))).toEqual(['es', 'es', 'en']);
    expect([languageFor(undefined, 'agent'), languageFor('fr', 'agent'), isLanguage('toString')]).toEqual(['en', 'en', false]);
  });
  test('a speaker borrows nothing from the first language', () => {
    const s = speaker(spanish!, k, 'homeowner');
    expect(() => s.name('a part nobody named')).toThrow('there are no words for the name "a part nobody named" in "es"');
    expect(() => s.stop('no-such-stop')).toThrow('there are no words for stop "no-such-stop" in "es"');
    expect(s.name('911')).toBe('911');
  });
  test('"y" gives way before the sound of i', () => {
    const say = (...items: string[]) => listed(spanish!.general.joins, items);
    expect([say('gas', 'agua'), say('a', 'b', 'una interrupción'), say('agua', 'interruptor'), say('agua', 'hielo')]).toEqual([
      'gas y agua',
      'a, b y una interrupción',
      'agua e interruptor',
      'agua y hielo',
    ]);
  });
});
