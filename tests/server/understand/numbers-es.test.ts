import { expect, test } from 'vitest';
import { findNumbers, type NumberWords } from '../../../server/understand/numbers.ts';
import { readText } from '../../../server/understand/tokens.ts';

/** A small part of another language: hundreds that are one word, a word between tens and ones, a comma as the point. */
const WORDS: NumberWords = {
  small: { cero: 0, uno: 1, dos: 2, cinco: 5, nueve: 9, diez: 10, veinte: 20, treinta: 30, cuarenta: 40 },
  hundreds: { ciento: 100, doscientos: 200, cuatrocientos: 400 },
  thousand: ['mil'],
  tensJoin: ['y'],
  point: ['coma', 'punto'],
  and: ['y'],
  articles: ['un', 'una'],
  parts: { medio: 0.5 },
  zeroInside: ['cero'],
  hundred: [],
  of: ['de'],
  fractions: {},
  counts: {},
  notBeforeOne: [],
  notBeforeA: [],
  aUnits: [],
  notAfterOne: [],
  namesBefore: [],
  about: [],
  more: [],
  minus: [],
};
const read = (text: string) => findNumbers(readText(text, { rewrites: {}, endings: [] }).tokens, WORDS).map((n) => n.value);

test.each([
  ['doscientos cuarenta', [240]],
  ['doscientos treinta y nueve coma cinco', [239.5]],
  ['ciento veinte y ciento veinte', [120, 120]],
  ['cinco mil cuatrocientos', [5400]],
  ['mil doscientos', [1200]],
  ['nueve y medio', [9.5]],
  ['nueve coma treinta y cinco', [9.35]],
  ['dos cuarenta', [240]],
])('%s', (text, values) => expect(read(text)).toEqual(values));
