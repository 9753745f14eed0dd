import { describe, expect, test } from 'vitest';
import { grouped, inPlace, summary } from '../../client/case/group.ts';
import { headAndRest, withoutReads } from '../../client/case/question-text.ts';
import { gaugeOf } from '../../client/evidence/gauge-of.ts';
import { ownLanguage } from '../../client/language.ts';
import { hashOf, type Route, readRoute } from '../../client/route.ts';
import type { Band, Line } from '../../client/types.ts';
import { readNumber, typedUnits } from '../../client/units.ts';
import { shareWords } from '../../client/words.ts';

describe('a typed number', () => {
  test.each([
    ['118.6', 118.6],
    ['118,6', 118.6],
    [' 10 ', 10],
    ['.5', 0.5],
    ['−3', -3],
    ['OL', 'open'],
    ['o.l.', 'open'],
    ['∞', 'open'],
    ['', undefined],
    ['ten', undefined],
    ['1.2.3', undefined],
    ['12V', undefined],
  ])('%j is %j', (typed, value) => expect(readNumber(typed)).toBe(value));

  test.each([
    ['Ω', 'us', 'kΩ', 0.0102, 10.2],
    ['°C', 'us', '°F', 212, 100],
    ['m/s', 'us', 'ft/min', 1000, 5.08],
    ['Pa', 'metric', 'in. w.c.', 0.6, 149.453346],
  ] as const)('in %s, typed by a %s person in %s, %d becomes %d', (unit, units, label, typed, value) =>
    expect(
      typedUnits(unit, units)
        .find((u) => u.label === label)
        ?.into(typed),
    ).toBe(value),
  );
  test('the unit at hand comes first', () => {
    expect(typedUnits('°C', 'us').map((u) => u.label)).toEqual(['°F', '°C']);
    expect(typedUnits('°C', 'metric').map((u) => u.label)).toEqual(['°C', '°F']);
  });
});

describe('the gauge', () => {
  const band: Band = { lo: 108, hi: 126, unit: 'V', from: [] };
  test('shows the reading in, beside and beyond the band', () => {
    const { bandFrom, bandWidth } = gaugeOf(117, band);
    const at = (value: number | 'open') => gaugeOf(value, band).mark!;
    expect(at(117).at).toBeGreaterThan(bandFrom);
    expect(at(117).at).toBeLessThan(bandFrom + bandWidth);
    expect(at(104).at).toBeLessThan(bandFrom);
    expect(at(104).off).toBeUndefined();
    expect(at(0).off).toBe('below');
    expect(at(240).off).toBe('above');
    expect(at('open').off).toBe('above');
  });
  test('of an all-OL band has OL in the band and every number beside it', () => {
    const only: Band = { lo: 1e12, hi: 0, unit: 'Ω', open: true, from: [] };
    const { bandFrom, bandWidth } = gaugeOf('open', only);
    expect(bandFrom).toBeGreaterThan(100);
    const inBand = gaugeOf('open', only).mark!;
    expect(inBand.at).toBeGreaterThan(bandFrom);
    expect(inBand.at).toBeLessThan(bandFrom + bandWidth);
    expect(inBand.off).toBeUndefined();
    expect(gaugeOf(40, only).mark).toEqual({ at: 8, off: 'below' });
    expect(gaugeOf(2e7, only).mark?.off).toBe('below');
  });
  test('of a band that ends at OL runs to the right end', () => {
    const upward: Band = { lo: 50_000, hi: 1e12, unit: 'Ω', open: true, from: [] };
    const { bandFrom, bandWidth } = gaugeOf('open', upward);
    expect(bandFrom + bandWidth).toBeGreaterThan(190);
    for (const value of [60_000, 9e6, 'open'] as const) expect(gaugeOf(value, upward).mark!.at).toBeGreaterThan(bandFrom);
    expect(gaugeOf(900, upward).mark!.at).toBeLessThan(bandFrom);
  });
  test('of a narrow band keeps reading and band apart by what lies between them', () => {
    const narrow: Band = { lo: 0, hi: 0.8, unit: 'Ω', from: [] };
    const { bandFrom, bandWidth } = gaugeOf(0.2, narrow);
    expect(bandWidth).toBeGreaterThan(20);
    expect(gaugeOf(0.2, narrow).mark!.at).toBeLessThan(bandFrom + bandWidth);
    expect(gaugeOf(1.2, narrow).mark!.at).toBeGreaterThan(bandFrom + bandWidth);
    expect(gaugeOf('open', narrow).mark!.off).toBe('above');
  });
  test('has no mark for a word, and draws a band of no width', () => {
    expect(gaugeOf('cold', band).mark).toBeUndefined();
    expect(gaugeOf(0, { lo: 0, hi: 0, unit: 'A', from: [] }).bandWidth).toBeGreaterThan(0);
  });
});

test.each<Route>([
  { at: 'start' },
  { at: 'case', id: 'a-B_9' },
  { at: 'sheet', id: 'x' },
  { at: 'sheet' },
  { at: 'reading' },
  { at: 'demo', step: 0 },
  { at: 'demo', name: 'cold after a storm/2', id: 'abc', step: 3 },
])('the address of %j leads back to it', (route) => expect(readRoute(hashOf(route))).toEqual(route));
test('an address nobody wrote leads to the first page', () => expect(readRoute('#case/')).toEqual({ at: 'start' }));
test('a broken escape in an address is taken as it stands', () =>
  expect(readRoute('#case/%E0%A4%A')).toEqual({ at: 'case', id: '%E0%A4%A' }));

test('answers to one list fold into one entry; what differs stands out', () => {
  const line = (seq: number, turn: number, shown: string): Line => ({
    seq,
    turn,
    label: `sign ${seq}`,
    shown,
    said: '',
    act: 'tell',
  });
  const lines = [
    line(1, 1, 'cold'),
    ...[2, 3, 4, 5].map((seq) => line(seq, 2, seq === 3 ? 'yes' : 'no')),
    line(6, 3, 'x'),
    line(7, 3, 'y'),
  ];
  const groups = grouped(lines);
  expect(groups.map((g) => [g.from, g.lines.length])).toEqual([
    [1, 1],
    [2, 4],
    [6, 1],
    [7, 1],
  ]);
  expect(summary(groups[1]!)).toEqual({ usual: 'no', others: [lines[2]] });
});

test('a corrected answer stays on its line, and goes back to it when that is taken back', () => {
  const line = (seq: number, turn: number, fact: string, act: Line['act'] = 'tell'): Line => ({
    seq,
    turn,
    fact,
    label: fact,
    shown: `${seq}`,
    said: '',
    act,
  });
  const before = [line(1, 1, 'fuel'), line(2, 2, 'kind'), line(3, 2, 'slots'), line(4, 3, 'coil')];
  const corrected = [before[0]!, before[2]!, before[3]!, line(5, 4, 'kind', 'correct')];
  const shown = inPlace(before, corrected);
  expect(shown.map((l) => [l.seq, l.turn])).toEqual([
    [1, 1],
    [5, 2],
    [3, 2],
    [4, 3],
  ]);
  const goneOn = inPlace(shown, [...corrected, line(6, 5, 'coil', 'repeat')]);
  expect(goneOn.map((l) => l.seq)).toEqual([1, 5, 3, 4, 6]);
  expect(inPlace(shown, before).map((l) => l.seq)).toEqual([1, 2, 3, 4]);
  expect(inPlace([], corrected)).toEqual(corrected);
});

test.each([
  [0.97, 'nearly certain'],
  [0.31, 'about 3 in 10'],
  [0.06, 'about 1 in 10'],
  [0.01, 'less than 1 in 20'],
])('a share of %d is %s', (share, words) => expect(shareWords(share)).toBe(words));

test('a long question gives its first sentence to the heading, a short one all of it', () => {
  expect(headAndRest('How warm is it? Feel it.')).toEqual(['How warm is it? Feel it.', '']);
  const how =
    'Take the rear cover off with the plug out, put the plug in again, and keep one hand away from the case all the while.';
  expect(headAndRest(`What do you read at the block? ${how}\n\nThen more.`)).toEqual([
    'What do you read at the block?',
    `${how}\n\nThen more.`,
  ]);
});
test('the list of readings goes to the fields', () => {
  const question = 'What do you read?\n\n- L1 to N: red on L1. A good one: 108 to 126 V.\n- Not a reading';
  expect(withoutReads(question, ['L1 to N'])).toEqual({
    text: 'What do you read?\n\n- Not a reading',
    hints: { 'L1 to N': 'red on L1. A good one: 108 to 126 V.' },
  });
});

describe('the language asked for', () => {
  test.each([
    [['es-MX', 'en'], 'es'],
    [['en-US', 'es'], 'en'],
    [['de-DE', 'ES'], 'es'],
    [['fr'], 'en'],
    [['constructor'], 'en'],
    [[], 'en'],
  ] as const)('%j -> %s', (wanted, tag) => expect(ownLanguage(wanted)).toBe(tag));
});
