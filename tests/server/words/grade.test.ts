import { describe, expect, test } from 'vitest';
import { grade, sentences, syllablesOf, wordsOf } from './grade.ts';
import { allTexts } from './texts.ts';

/** Syllables as one hears them, counted by ear. */
const BY_EAR: [word: string, syllables: number][] = [
  ['dryer', 2],
  ['heat', 1],
  ['heater', 2],
  ['outlet', 2],
  ['breaker', 2],
  ['panel', 2],
  ['thermostat', 3],
  ['receptacle', 4],
  ['terminal', 3],
  ['neutral', 2],
  ['voltage', 2],
  ['timer', 2],
  ['motor', 2],
  ['contact', 2],
  ['control', 2],
  ['selector', 3],
  ['element', 3],
  ['thermistor', 3],
  ['relay', 2],
  ['coil', 1],
  ['cycle', 2],
  ['clothes', 1],
  ['burnt', 1],
  ['wired', 1],
  ['tripped', 1],
  ['caught', 1],
  ['scorched', 1],
  ['welded', 2],
  ['weak', 1],
  ['filter', 2],
  ['lint', 1],
  ['damp', 1],
  ['automatic', 4],
  ['apartment', 3],
  ['impedance', 3],
  ['resistance', 3],
  ['condenser', 3],
  ['adapter', 3],
  ['smell', 1],
  ['bypassed', 2],
];

describe('the measure', () => {
  test('hears 40 words of the trade as the ear does', () => {
    expect(BY_EAR).toHaveLength(40);
    expect(BY_EAR.filter(([w, n]) => syllablesOf(w) !== n).map(([w, n]) => `${w}: ${syllablesOf(w)}, heard ${n}`)).toEqual([]);
  });
  test('counts a number and a unit as one word of one syllable each', () => {
    expect(wordsOf('Under 1.5 V: read it (again).')).toEqual(['Under', '1.5', 'V', 'read', 'it', 'again']);
    expect(['240', '0.5', 'V', 'kΩ', '%', 'OL'].map(syllablesOf)).toEqual([1, 1, 1, 1, 1, 1]);
  });
  test('splits at the ends of sentences and not inside a number', () => {
    expect(sentences('It reads 0.5 V. Is it warm? Say "no". Then stop.')).toEqual([
      'It reads 0.5 V.',
      'Is it warm?',
      'Say "no".',
      'Then stop.',
    ]);
  });
  test('gives the grade of the formula, and none for three words', () => {
    expect(grade('The cat sat on the mat.')).toBeCloseTo(0.39 * 6 + 11.8 - 15.59, 10);
    expect(grade('No heat now.')).toBeUndefined();
    expect(grade('Verify continuity of the thermal protective device.')).toBeGreaterThan(12);
  });
});

const MOST = { homeowner: 6, agent: 8, technician: 8 } as const;

describe.each(['homeowner', 'agent', 'technician'] as const)('what a %s reads', (to) => {
  test(`is no harder than grade ${MOST[to]}, sentence by sentence`, () => {
    const mine = allTexts().filter((t) => t.to === to);
    expect(mine.length).toBeGreaterThan(300);
    const hard = mine.flatMap(({ where, text }) =>
      sentences(text).flatMap((s) => {
        const g = grade(s);
        return g !== undefined && g > MOST[to] ? [`${g.toFixed(1)} ${where}: ${s}`] : [];
      }),
    );
    expect(hard).toEqual([]);
  });
});
