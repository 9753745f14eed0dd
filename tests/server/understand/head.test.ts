import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import { factsOfKind } from '../../../server/understand/head/danger.ts';
import kindFile from '../../../server/understand/head/kinds.json' with { type: 'json' };
import weights from '../../../server/understand/head/weights.json' with { type: 'json' };

const k = knowledge();

/** What a kind names that the knowledge does not have. */
const unknownOf = (kind: string) => factsOfKind(kind).filter(([fact, value]) => !k.facts.get(fact)?.choices?.includes(value));

describe('the kinds of danger that the heads know', () => {
  test('are those the file gives facts for', () => {
    expect(Object.keys(kindFile.kinds).sort()).toEqual(Object.keys(weights.which).sort());
    for (const kind of Object.keys(weights.which)) expect(factsOfKind(kind), kind).not.toEqual([]);
  });

  test('stand for facts and choices of the knowledge, but for those the file says are to come', () => {
    expect(Object.keys(kindFile.kinds).filter((kind) => unknownOf(kind).length > 0)).toEqual(kindFile.notYet);
    expect(kindFile.notYet).toEqual(['gas-flame']);
  });

  test('tell of a danger, and the fact that the short question asks about has one', () => {
    for (const kind of Object.keys(kindFile.kinds).filter((one) => !kindFile.notYet.includes(one))) {
      const facts = factsOfKind(kind);
      expect(
        facts.some(([fact, value]) => k.facts.get(fact)?.danger?.includes(value)),
        kind,
      ).toBe(true);
      expect(k.facts.get(facts[0]![0])?.danger, `${kind}, asked about`).toBeDefined();
    }
  });
});
