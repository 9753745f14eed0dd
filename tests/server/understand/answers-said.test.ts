import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import en from '../../../server/conversation/words/en/facts.json' with { type: 'json' };
import es from '../../../server/conversation/words/es/facts.json' with { type: 'json' };
import type { Ask, Meaning } from '../../../server/types.ts';
import { understand } from '../../../server/understand/index.ts';

type Said = string | { homeowner?: string; technician?: string };
const WORDS = { en, es } as unknown as Record<string, { facts: Record<string, { choices: Record<string, Said> }> }>;
const k = knowledge();

/** The question about one fact, with its real choices in their real words. */
function askFor(fact: string, language: string): Ask {
  const labels = WORDS[language]?.facts[fact]?.choices ?? {};
  const choices = (k.facts.get(fact)?.choices ?? []).map((id) => {
    const of = labels[id] ?? '';
    return { id, fact, label: typeof of === 'string' ? of : (of.homeowner ?? of.technician ?? '') };
  });
  if (choices.length === 0) throw new Error(`${fact} has no choices`);
  return { check: fact, text: '', kind: 'one', reads: [], why: '', cautions: [], min: 1, covers: [], stateWords: '', choices };
}
const heard = (text: string, fact: string, language: string): Meaning[] =>
  understand(text, askFor(fact, language), 'homeowner', {}, language).acts;
const answers = (acts: Meaning[]): unknown[] => acts.flatMap((a) => (a.is === 'answer' ? [`${a.fact}=${a.value}`] : []));

const SAID: [string, string, string, string][] = [
  ['en', 'filter_water', 'water stays on top', 'film'],
  ['en', 'filter_water', 'it goes right through', 'runs-through'],
  ['en', 'minutes_to_stop', 'it does not stop early', 'does-not-stop'],
  ['en', 'minutes_to_stop', "no, it doesn't stop early", 'does-not-stop'],
  ['en', 'minutes_to_stop', 'it runs the whole cycle', 'does-not-stop'],
  ['en', 'warmth', 'cold all the way', 'never-warm'],
  ['en', 'warmth', 'cold the whole time', 'never-warm'],
  ['en', 'warmth', 'weak all the way', 'weak-all-through'],
  ['en', 'duct_cleaned', 'within the last year', 'within-a-year'],
  ['en', 'duct_cleaned', 'last year', 'within-a-year'],
  ['en', 'heat_pattern', 'first, then gone', 'first-then-gone'],
  ['en', 'heat_pattern', 'hot at first but then cold', 'first-then-gone'],
  ['en', 'heat_pattern', 'the first one', 'steady'],
  ['en', 'capacitor_reading', 'no capacitor', 'no-capacitor'],
  ['en', 'capacitor_reading', 'it does not have one', 'no-capacitor'],
  ['en', 'capacitor_reading', 'there is no capacitor', 'no-capacitor'],
  ['en', 'hot_where', 'nowhere', 'nowhere'],
  ['en', 'hot_where', 'plug or wall', 'plug-or-wall'],
  ['en', 'stop_and_door', 'keeps turning', 'keeps-turning'],
  ['en', 'proof_usual_load', 'good', 'good'],
  ['en', 'proof_usual_load', 'ok', 'good'],
  ['en', 'proof_usual_load', 'passed', 'good'],
  ['en', 'proof_usual_load', 'it passed', 'good'],
  ['en', 'proof_usual_load', 'all good', 'good'],
  ['en', 'proof_usual_load', 'fine', 'good'],
  ['en', 'proof_no_bypass', 'failed', 'failed'],
  ['en', 'proof_no_bypass', 'not good', 'failed'],
  ['en', 'proof_no_bypass', 'it did not pass', 'failed'],
  ['en', 'proof_no_bypass', 'not ok', 'failed'],
  ['en', 'proof_no_bypass', 'bad', 'failed'],
  ['en', 'static_pressure', 'good', 'good'],
  ['es', 'filter_water', 'el agua se queda arriba', 'film'],
  ['es', 'minutes_to_stop', 'no para antes', 'does-not-stop'],
  ['es', 'minutes_to_stop', 'no se apaga antes', 'does-not-stop'],
  ['es', 'warmth', 'fría todo el tiempo', 'never-warm'],
  ['es', 'duct_cleaned', 'en el último año', 'within-a-year'],
  ['es', 'duct_cleaned', 'el último año', 'within-a-year'],
  ['es', 'heat_pattern', 'primero sí, luego no', 'first-then-gone'],
  ['es', 'heat_pattern', 'primero, luego nada', 'first-then-gone'],
  ['es', 'capacitor_reading', 'no tiene condensador', 'no-capacitor'],
  ['es', 'capacitor_reading', 'sin condensador', 'no-capacitor'],
  ['es', 'hot_where', 'en ningún lado', 'nowhere'],
  ['es', 'proof_usual_load', 'bien', 'good'],
  ['es', 'proof_usual_load', 'pasó la prueba', 'good'],
  ['es', 'proof_usual_load', 'ok', 'good'],
  ['es', 'proof_usual_load', 'falló', 'failed'],
  ['es', 'proof_usual_load', 'no pasó', 'failed'],
];
describe('words that answer the question that is open', () => {
  test.each(SAID)('%s, %s: "%s" is %s', (language, fact, text, choice) => {
    const acts = heard(text, fact, language);
    expect(
      answers(acts).filter((a) => String(a).startsWith(`${fact}=`)),
      JSON.stringify(acts),
    ).toEqual([`${fact}=${choice}`]);
    expect(acts.filter((a) => a.is === 'hazard' || a.is === 'complaint')).toEqual([]);
  });
});

describe('words of time name no place in a list', () => {
  test.each([
    ['en', 'changed_before', 'within the last year'],
    ['en', 'changed_before', 'last month'],
    ['es', 'changed_before', 'en el último año'],
  ])('%s, %s: "%s"', (language, fact, text) => expect(answers(heard(text, fact, language))).toEqual([]));
});
describe('what is no answer', () => {
  test.each([
    ['en', 'I am not at the machine now'],
    ['en', "I'm not near the dryer"],
    ['es', 'no estoy en la máquina ahora'],
  ])('%s: "%s" is later, not "no" and not unsure', (language, text) => {
    for (const fact of ['filter_water', 'heat_pattern', 'proof_usual_load', 'warm_without_call']) {
      const acts = heard(text, fact, language);
      expect(
        acts.map((a) => (a.is === 'talk' ? a.what : a.is)),
        fact,
      ).toEqual(['later']);
    }
  });
  test('"ok" is an answer, but no firm one', () =>
    expect(heard('ok', 'proof_no_bypass', 'en')).toEqual([
      expect.objectContaining({ is: 'answer', value: 'good', sure: false }),
    ]));
});

test.each([
  ['en', 'may I use it'],
  ['en', 'can we keep using the dryer'],
  ['en', 'is it safe to use it until then'],
  ['es', 'puedo usarla'],
])('%s: "%s" asks one thing', (language, text) => {
  const acts = understand(text, undefined, 'homeowner', {}, language).acts;
  expect(acts.filter((a) => a.is === 'talk').map((a) => a.is === 'talk' && a.what)).toEqual(['may-use']);
});
test.each([
  ['en', 'water stays on the floor', 'water_seen'],
  ['en', 'there is water on top of the dryer', 'water_seen'],
  ['en', 'it will not stop at all', 'stop_and_door'],
  ['en', 'it does not stop when I open the door', 'stop_and_door'],
  ['es', 'no se apaga antes de abrir la puerta', 'stop_and_door'],
  ['es', 'hay agua encima de la secadora y en el piso', 'water_seen'],
])('%s: "%s" is a danger all the same', (language, text, fact) =>
  expect(understand(text, undefined, 'homeowner', {}, language).acts).toContainEqual(
    expect.objectContaining({ is: 'hazard', fact }),
  ),
);
