import { describe, expect, test } from 'vitest';
import { evaluate, evaluateSet } from '../../../rules/engine/run-rules.ts';
import type { Condition, Rule } from '../../../rules/types.ts';

const rule = (id: string, when: Condition): Rule => ({
  id,
  over: 'case',
  when,
  then: {},
  because: '',
  sources: [],
  examples: [],
});
const is = (fact: string, value: unknown, operator = 'equal'): Condition => ({ fact, operator, value });

describe('three values from an engine that has two', () => {
  test.each<[string, Condition, Record<string, unknown>, string, string[]]>([
    ['all, both there', { all: [is('a', 1), is('b', 2)] }, { a: 1, b: 2 }, 'holds', []],
    ['all, one fails, one unknown', { all: [is('a', 1), is('b', 2)] }, { a: 0 }, 'fails', []],
    ['all, one unknown', { all: [is('a', 1), is('b', 2)] }, { a: 1 }, 'unknown', ['b']],
    ['any, one holds, one unknown', { any: [is('a', 1), is('b', 2)] }, { b: 2 }, 'holds', []],
    ['any, one fails, one unknown', { any: [is('a', 1), is('b', 2)] }, { b: 3 }, 'unknown', ['a']],
    ['not of unknown is unknown', { all: [{ not: is('a', 1) }] }, {}, 'unknown', ['a']],
    ['notEqual of unknown is unknown', { all: [is('a', 1, 'notEqual')] }, {}, 'unknown', ['a']],
    ['notIn of unknown is unknown', { all: [is('a', [1], 'notIn')] }, {}, 'unknown', ['a']],
    ['fact against fact, other unknown', { all: [is('a', { fact: 'b' }, 'lessThan')] }, { a: 1 }, 'unknown', ['b']],
    ['fact against fact', { all: [is('a', { fact: 'b' }, 'lessThan')] }, { a: 1, b: 2 }, 'holds', []],
    ['nested', { any: [{ all: [is('a', 1), is('c', 1)] }, is('b', 2)] }, { a: 1, b: 3 }, 'unknown', ['c']],
  ])('%s', async (_, when, facts, truth, missing) => {
    expect(await evaluate(rule('r', when), facts)).toEqual({ truth, missing });
  });
  test('results stand in the order of the rules and repeat to the letter', async () => {
    const rules = [rule('deep', { all: [{ any: [is('a', 1)] }] }), rule('flat', { all: [is('a', 1)] })];
    const one = await evaluateSet(rules, { a: 1, unrelated: 5 });
    const two = await evaluateSet(rules, { a: 1 });
    expect(one.map((r) => r.rule.id)).toEqual(['deep', 'flat']);
    expect(two).toEqual(one);
  });
});
