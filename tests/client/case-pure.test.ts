import { describe, expect, test } from 'vitest';
import { entered } from '../../client/case/answers.ts';
import { linesOf, type Ticks, tickChoice, tickLine, untold } from '../../client/case/list-lines.ts';
import { questionText } from '../../client/case/question-text.ts';
import { recordNow } from '../../client/case/record-now.ts';
import { typedUnits, typedValue } from '../../client/units.ts';
import type { Ask, CaseView, Part, Reply } from '../../server/types.ts';

const ask = (more: Partial<Ask> = {}): Ask => ({
  check: 'coil',
  text: 'What do you read?',
  kind: 'readings',
  choices: [],
  reads: [],
  why: '',
  cautions: [],
  min: 0,
  covers: [],
  stateWords: '',
  ...more,
});
const part = (kind: Part['kind'], text: string): Part => ({ kind, text });

describe('the record now', () => {
  const view = {
    answers: [
      { seq: 1, turn: 1, label: 'Slots', shown: 'four', said: 'four', act: 'tell' },
      { seq: 4, turn: 2, label: 'Coil', shown: '', said: 'no idea', act: 'unsure' },
    ],
  } as Partial<CaseView> as CaseView;
  const now = (parts: Part[], open?: Ask, said: Part[] = []) =>
    recordNow({ parts, ...(open && { ask: open }) } as Partial<Reply> as Reply, view, said);

  test('shows a line nobody could answer in a word', () =>
    expect(now([]).lines.map(({ shown }) => shown)).toEqual(['four', 'Not sure']));
  test('has each caution once, those of the reply before those of the question', () =>
    expect(now([part('caution', 'gas'), part('caution', 'live')], ask({ cautions: ['live', 'hot'] })).cautions).toEqual([
      'gas',
      'live',
      'hot',
    ]));
  test('goes on showing what it came to, but under a stop only what this reply says', () => {
    const said = [part('conclude', 'the coil')];
    expect(now([], undefined, said).outcome).toEqual(said);
    expect(now([part('stop', 'out!')], undefined, said).outcome).toEqual([]);
    expect(now([part('stop', 'out!'), part('refer', 'call')], undefined, said).outcome).toEqual([part('refer', 'call')]);
  });
  test('keeps a question apart from another one of the same check, and from the same one asked once more', () => {
    const read = (fact: string) => ({ fact }) as Ask['reads'][number];
    const keys = [ask(), ask({ of: 4 }), ask({ reads: [read('a')] }), ask({ reads: [read('b')] })].map(
      (one) => now([], one).askKey,
    );
    expect(new Set(keys).size).toBe(4);
    expect(now([], ask({ text: 'said in other words' })).askKey).toBe(keys[0]);
    expect(now([]).askKey).toBe('');
  });
  test.each([
    [undefined, undefined],
    [4, 2],
    [3, 0],
  ])('of an answer with seq %j the line asked once more is %j', (of, line) =>
    expect(now([], ask(of === undefined ? {} : { of })).againOf).toBe(line),
  );
});

describe('a list', () => {
  const choice = (id: string) => ({ id, label: id });
  const lines = linesOf({
    choices: ['smoke', 'shock', 'tingle', 'smell', 'none'].map(choice),
    groups: [{ id: 'current', label: 'a shock', of: ['shock', 'tingle'] }],
  });
  const nothing: Ticks = { ticked: [], opened: [] };
  const group = lines[1]!;
  test('has a line for each choice or group, at the place of its first, and none for "none"', () => {
    expect(lines.map(({ id }) => id)).toEqual(['smoke', 'current', 'smell']);
    expect(group.under).toEqual([choice('shock'), choice('tingle')]);
  });
  test('opened and not told apart is a danger left open', () => {
    const opened = tickLine(nothing, group, true);
    expect(opened).toEqual({ ticked: [], opened: ['current'] });
    expect(untold(lines, opened)).toBe(group);
    expect(untold(lines, tickChoice(opened, 'tingle', true))).toBeUndefined();
    expect(untold(lines, nothing)).toBeUndefined();
  });
  test('closed again takes the ticks under it along, and no other', () => {
    const ticked = tickChoice(tickLine(tickLine(nothing, lines[0]!, true), group, true), 'shock', true);
    expect(ticked).toEqual({ ticked: ['smoke', 'shock'], opened: ['current'] });
    expect(tickLine(ticked, group, false)).toEqual({ ticked: ['smoke'], opened: [] });
    expect(tickLine(ticked, lines[0]!, false)).toEqual({ ticked: ['shock'], opened: ['current'] });
  });
});

test('what the question says itself is not said a second time above it', () => {
  const text = 'With the rear panel off: what do you read?';
  expect(questionText(ask({ text, min: 3, stateWords: 'plug out', covers: ['rear panel'] })).doing).toEqual([
    'about 3 min',
    'plug out',
  ]);
  const { doing } = questionText(ask({ text, stateWords: '', covers: ['rear panel', 'lid'] }));
  expect(doing).toHaveLength(1);
  expect(doing[0]).toContain('lid');
  expect(doing[0]).not.toContain('rear panel');
});

describe('readings that are entered', () => {
  const two = ask({ reads: [{ fact: 'limit' }, { fact: 'cut_off' }] as Ask['reads'] });
  const empty =
    (...facts: string[]) =>
    (fact: string) =>
      facts.includes(fact);
  test.each([
    ['both', { limit: 0.2, cut_off: 'open' as const }, empty(), ['limit', 'cut_off'], []],
    ['one, the other field empty', { limit: 0.2 }, empty('cut_off'), ['limit'], []],
    ['one, letters in the other field', { limit: 0.2 }, empty(), ['limit'], ['cut_off']],
    ['none', {}, empty('limit', 'cut_off'), [], ['limit', 'cut_off']],
  ])('are %s', (_, values, isEmpty, given, wrong) => {
    const found = entered(two, values, isEmpty);
    expect([found.given.map(({ fact }) => fact), found.wrong]).toEqual([given, wrong]);
  });
});

test.each([
  ['2.2', 'kΩ', false, 2200],
  ['2.2', 'Ω', false, 2.2],
  ['OL', 'kΩ', false, 'open'],
  ['2.2', 'Ω', true, 'open'],
  ['', 'Ω', true, 'open'],
  ['x', 'Ω', false, undefined],
])('%j in %s, over range %j, is %j', (text, unit, over, value) =>
  expect(typedValue({ text, unit, over }, typedUnits('Ω', 'us'))).toBe(value),
);
