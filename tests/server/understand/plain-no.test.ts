import { describe, expect, test } from 'vitest';
import type { Ask } from '../../../server/types.ts';
import { everyPlainNo, plainNo } from '../../../server/understand/plain-no.ts';
import { understand } from '../../../server/understand/understand.ts';

const list: Ask = {
  check: 'gate-now',
  text: 'First, your safety. Is any of this true right now?',
  kind: 'many',
  choices: [
    { id: 'flame-or-smoke-now', label: 'Flame or smoke now', fact: 'gate-now' },
    { id: 'gas-smell-or-hiss', label: 'A gas smell or a hiss', fact: 'gate-now' },
    { id: 'hands-inside-with-power-on', label: 'Hands are inside with the power on', fact: 'gate-now' },
    { id: 'none', label: 'None of these', fact: 'gate-now' },
  ],
  reads: [],
  why: '',
  cautions: [],
  min: 1,
  covers: [],
  stateWords: '',
  about: { signs: ['flame_or_smoke', 'gas_smell', 'hands_inside_live'] },
};
const acts = (text: string) => understand(text, list, 'homeowner', {}, 'en').acts;
/** Does this say no to the whole list? */
const clears = (text: string): boolean =>
  acts(text).some(
    (a) => (a.is === 'plain-no' && a.of === 'plain') || (a.is === 'answer' && a.fact === 'gate-now' && a.value === 'none'),
  );

describe('a list of dangers is cleared by a plain no alone', () => {
  test('the list is finite, and every sentence of it clears, with the marks and the thanks people add', () => {
    const all = everyPlainNo();
    expect(all.length).toBeGreaterThan(500);
    const not = all.flatMap((s) => [s, `${s}.`, `${s.toUpperCase()}!`, `Hi, ${s}`]).filter((s) => !clears(s));
    expect(not).toEqual([]);
  });

  const more = [
    'but',
    'yet',
    'smell',
    'breathing',
    'vent',
    'fire',
    'heat',
    'sure',
    'really',
    'pero',
    'humo',
    'respira',
    'creo',
    'seguro',
    'bien',
  ];
  test.each(more)('each with one more word, %s, before or behind, is no plain no', (word) => {
    const all = everyPlainNo();
    const longer = all.flatMap((s) => [`${s} ${word}`, `${word} ${s}`]);
    expect(longer.filter((s) => plainNo(s) === 'plain')).toEqual([]);
    // and nothing else in the understanding takes it for one
    expect(longer.filter((s, i) => i % 41 === 0 && clears(s))).toEqual([]);
  });

  test.each([
    'he is not breathing',
    'nobody can let go of it, he is not moving',
    'it does not heat since the fire',
    'there is no vent hose',
    'not good, it smells',
    'there is no cover on the outlet',
    'it has not been used since the flood',
    'no smell but the plug is soft',
    'no respira',
    'no lo puede soltar',
    'none? what do you mean',
    'no?',
    'not that i know of',
    'no idea',
    'nothing much',
    'ya no',
    'como no',
    'no estamos bien',
    'all good',
  ])('"%s" is no plain no', (text) => expect(clears(text)).toBe(false));

  test('"none right now" is a no about now, "we are fine" one about people', () => {
    expect(plainNo('None right now')).toBe('now');
    expect(plainNo('por ahora no')).toBe('now');
    expect(plainNo("We're safe")).toBe('people');
    expect(plainNo('nadie')).toBe('people');
  });
});
