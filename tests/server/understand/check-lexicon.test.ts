import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import type { Knowledge } from '../../../rules/types.ts';
import { createConversation } from '../../../server/conversation/index.ts';
import { checkLexicon, LexiconError, lexiconProblems } from '../../../server/understand/check-lexicon.ts';
import { LANGUAGES } from '../../../server/understand/lexicon/languages.ts';
import type { Entry, LexiconFiles } from '../../../server/understand/lexicon/shape.ts';

const k = knowledge();
/** One language's files as a copy that is broken. */
const broken = (tag: 'en' | 'es', breakIt: (f: LexiconFiles) => void): Record<string, LexiconFiles> => {
  const copy = structuredClone(LANGUAGES[tag]!);
  breakIt(copy);
  return { [tag]: copy };
};
const entry = (all: readonly Entry[], id: string): Entry => all.find((e) => e.id === id)!;

describe('what the lexicon names is held against the knowledge', () => {
  test('ours names nothing that is not there', () => {
    expect(lexiconProblems(k)).toEqual([]);
    expect(() => checkLexicon(k)).not.toThrow();
  });

  test.each<[string, Record<string, LexiconFiles>, string]>([
    [
      'a danger misspelt',
      broken('en', (f) => {
        entry(f.hazards.entries, 'flame').hazard = { flame_or_smok: 'now' };
      }),
      'lexicon/en/hazards.json, entry "flame", hazard: there is no fact "flame_or_smok"; did you mean "flame_or_smoke"?',
    ],
    [
      'an answer of a danger misspelt',
      broken('es', (f) => {
        entry(f.hazards.entries, 'smoke').hazard = { flame_or_smoke: 'earler' };
      }),
      'lexicon/es/hazards.json, entry "smoke", hazard: "earler" is no answer of "flame_or_smoke"; did you mean "earlier"?',
    ],
    [
      'a danger that stops nothing',
      broken('en', (f) => {
        entry(f.hazards.entries, 'flame').hazard = { dial_pointer: 'firm' };
      }),
      'lexicon/en/hazards.json, entry "flame", hazard: "dial_pointer" is no danger of the knowledge',
    ],
    [
      'the bare name of a danger',
      broken('en', (f) => {
        f.hazards.names = { gas: { gas_smel: 'yes' } };
      }),
      'lexicon/en/hazards.json, name "gas": there is no fact "gas_smel"; did you mean "gas_smell"?',
    ],
    [
      'a fact told on the way',
      broken('en', (f) => {
        entry(f.facts.entries, 'stacked').facts = { stackt: 'yes' };
      }),
      'lexicon/en/facts.json, entry "stacked", facts: there is no fact "stackt"; did you mean "stacked"?',
    ],
    [
      'a complaint',
      broken('en', (f) => {
        entry(f.families.entries, 'no-heat').family = 'no-heatt';
      }),
      'lexicon/en/families.json, entry "no-heat", family: there is no family "no-heatt"; did you mean "no-heat"?',
    ],
    [
      'what an entry takes back',
      broken('en', (f) => {
        f.hazards.entries[0]!.drops = ['smell_kind=burnin'];
      }),
      'lexicon/en/hazards.json, entry "flame", drops: "burnin" is no answer of "smell_kind"; did you mean "burning"?',
    ],
    [
      'a choice in words',
      broken('en', (f) => {
        f.choices.choices[0] = { fact: 'fuel', id: 'electrik', says: ['electric'] };
      }),
      'lexicon/en/choices.json, choice "fuel electrik": "electrik" is no answer of "fuel"; did you mean "electric"?',
    ],
    [
      'a lone word',
      broken('es', (f) => {
        f.facts.lone = { gas: ['fuell', 'gas'] };
      }),
      'lexicon/es/facts.json, lone "gas": there is no fact "fuell"; did you mean "fuel"?',
    ],
  ])('%s', (_, files, problem) => {
    expect(lexiconProblems(k, files)).toContain(problem);
  });

  test('a knowledge that lacks a danger people speak of does not start', async () => {
    const facts = new Map([...k.facts].filter(([id]) => id !== 'gas_smell'));
    const less = { ...k, facts } as Knowledge;
    expect(() => checkLexicon(less)).toThrow(LexiconError);
    await expect(createConversation({ k: less })).rejects.toThrow('there is no fact "gas_smell"');
  });
});
