import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { evaluate } from '../../../rules/engine/run-rules.ts';
import { RULE_SETS, type Rule } from '../../../rules/types.ts';

describe.each(RULE_SETS)('the examples of the set %s', (set) => {
  const { rules } = JSON.parse(readFileSync(`rules/knowledge/rules/${set}.json`, 'utf8')) as { rules: Rule[] };
  test.each(rules.flatMap((r) => r.examples.map((e, i) => [`${r.id} #${i + 1} ${e.truth}`, r, e] as const)))(
    '%s',
    async (_, rule, example) => {
      const got = await evaluate(rule, example.facts);
      expect(got.truth).toBe(example.truth);
      if (example.truth === 'unknown') expect([...got.missing].sort()).toEqual([...(example.missing ?? [])].sort());
    },
  );
});
