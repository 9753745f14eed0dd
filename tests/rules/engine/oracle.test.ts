import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { evaluateSet, type Flat, factsOf, type RuleOutcome } from '../../../rules/engine/run-rules.ts';
import { knowledge } from '../../../rules/index.ts';
import { type Audience, type Condition, RULE_SETS, type Rule, type Truth } from '../../../rules/types.ts';
import { everyWorld } from '../../bench/every-world.ts';
import { modelDryer } from '../../bench/model-dryer.ts';
import { lead } from '../../bench/worlds.ts';

/**
 * A plain walk over the same rules, three-valued from the start, holds against the engine and the folding of its result tree:
 * on every record of facts that occurs while worlds are led to their end, and on random ones with holes in them.
 */
interface Said {
  truth: Truth;
  missing: string[];
}
const there = (v: unknown): boolean => v !== undefined && v !== null;
const OPERATORS: Record<string, (a: unknown, b: unknown) => boolean> = {
  equal: (a, b) => a === b,
  notEqual: (a, b) => a !== b,
  in: (a, b) => (b as unknown[]).includes(a),
  notIn: (a, b) => !(b as unknown[]).includes(a),
  lessThan: (a, b) => (a as number) < (b as number),
  lessThanInclusive: (a, b) => (a as number) <= (b as number),
  greaterThan: (a, b) => (a as number) > (b as number),
  greaterThanInclusive: (a, b) => (a as number) >= (b as number),
};

function walk(c: Condition, facts: Flat): Said {
  if ('all' in c) {
    const parts = c.all.map((x) => walk(x, facts));
    return parts.some((p) => p.truth === 'fails') ? { truth: 'fails', missing: [] } : undecided(parts, 'holds');
  }
  if ('any' in c) {
    const parts = c.any.map((x) => walk(x, facts));
    return parts.some((p) => p.truth === 'holds') ? { truth: 'holds', missing: [] } : undecided(parts, 'fails');
  }
  if ('not' in c) {
    const inner = walk(c.not, facts);
    if (inner.truth === 'unknown') return inner;
    return { truth: inner.truth === 'holds' ? 'fails' : 'holds', missing: [] };
  }
  const other = typeof c.value === 'object' && c.value !== null && 'fact' in c.value ? String(c.value.fact) : undefined;
  const missing = [c.fact, ...(other ? [other] : [])].filter((f) => !there(facts[f]));
  if (missing.length) return { truth: 'unknown', missing };
  const compare = OPERATORS[c.operator];
  if (!compare) throw new Error(`no operator ${c.operator}`);
  return { truth: compare(facts[c.fact], other ? facts[other] : c.value) ? 'holds' : 'fails', missing: [] };
}
function undecided(parts: Said[], otherwise: Truth): Said {
  const open = parts.filter((p) => p.truth === 'unknown');
  return open.length ? { truth: 'unknown', missing: open.flatMap((p) => p.missing) } : { truth: otherwise, missing: [] };
}
const said = (s: Said) => `${s.truth} ${[...new Set(s.missing)].sort().join(' ')}`;

/** Where engine and walk part, one line a rule. */
const partings = (out: readonly RuleOutcome[], facts: Flat): string[] =>
  out
    .filter((o) => said(o) !== said(walk(o.rule.when, facts)))
    .map((o) => `${o.rule.id}: engine ${said(o)}, walk ${said(walk(o.rule.when, facts))}, on ${JSON.stringify(facts)}`);

// Everything the reasoning hands to the engine passes here, and is kept with what came of it.
const kept = vi.hoisted(() => [] as { rules: readonly unknown[]; facts: Record<string, unknown>; out: unknown[] }[]);
const met = vi.hoisted(() => new WeakSet<object>());
vi.mock('../../../rules/engine/run-rules.ts', async (original) => {
  const real = await original<typeof import('../../../rules/engine/run-rules.ts')>();
  return {
    ...real,
    evaluateSet: async (rules: readonly Rule[], facts: Flat) => {
      const out = await real.evaluateSet(rules, facts);
      // The same facts give the same kept result: once is enough.
      if (!met.has(out)) kept.push({ rules, facts: { ...facts }, out });
      met.add(out);
      return out;
    },
  };
});

const k = knowledge();
const setOf = new Map(RULE_SETS.flatMap((set) => k.rules[set].map((r) => [r.id, set] as const)));

/** This dryer is never mended, so that each round after a repair is like the one before: no need to meet them all. */
const LED = { maxTurns: 40 };

/** A few worlds of each family and audience, picked by a fixed stride so that every part of the list is met. */
function sample(): ReturnType<typeof everyWorld> {
  const out: ReturnType<typeof everyWorld> = [];
  let nth = 0;
  for (const family of k.families.keys())
    for (const audience of ['technician', 'homeowner', 'agent'] as const satisfies Audience[]) {
      const all = everyWorld(family, audience);
      const take = audience === 'technician' ? 2 : 1;
      for (let i = 0; i < take && all.length; i++) out.push(all[(nth++ * 17 + i * 29) % all.length]!);
    }
  return out;
}

describe('the rules engine says what a plain walk over the same rules says', () => {
  test('on every record of facts that occurs while a sample of worlds is led to its end', async () => {
    kept.length = 0;
    for (const w of sample()) await lead(w, modelDryer(w.machine, w.faults, w.family, { quiet: true }), LED);
    for (const w of sample().filter((_, i) => i % 3 === 0)) await lead(w, modelDryer(w.machine, w.faults, w.family), LED);
    const seen = new Set<string>();
    const rules = new Set<string>();
    const truths = new Set<string>();
    const wrong: string[] = [];
    for (const { rules: set, facts, out } of kept) {
      const key = `${(set as Rule[])[0]?.id} ${JSON.stringify(facts)}`;
      if (seen.has(key)) continue;
      seen.add(key);
      for (const o of out as RuleOutcome[]) {
        rules.add(o.rule.id);
        truths.add(`${setOf.get(o.rule.id)} ${o.truth}`);
      }
      expect((out as RuleOutcome[]).map((o) => o.rule.id)).toEqual((set as Rule[]).map((r) => r.id));
      wrong.push(...partings(out as RuleOutcome[], facts));
    }
    expect(wrong).toEqual([]);
    // The sample is no small one (records that look alike to the rules count once): every rule the reasoning runs was met, each set with both of its plain answers.
    expect(seen.size).toBeGreaterThan(250);
    const run = RULE_SETS.filter((set) => set !== 'follow-through');
    expect(run.flatMap((set) => k.rules[set].map((r) => r.id)).filter((id) => !rules.has(id))).toEqual([]);
    for (const set of run) for (const truth of ['holds', 'fails']) expect(truths).toContain(`${set} ${truth}`);
  });

  const all = RULE_SETS.flatMap((set) => k.rules[set].map((r) => [set, r] as const));
  /** Values a fact is compared with anywhere, and some it never is. */
  const values = new Map<string, Set<unknown>>();
  const note = (fact: string, v: unknown) => values.set(fact, (values.get(fact) ?? new Set()).add(v));
  const collect = (c: Condition): void => {
    if ('all' in c) c.all.forEach(collect);
    else if ('any' in c) c.any.forEach(collect);
    else if ('not' in c) collect(c.not);
    else
      for (const v of Array.isArray(c.value) ? c.value : [c.value])
        if (typeof v === 'number') for (const d of [-1, 0, 1]) note(c.fact, v + d);
        else if (typeof v === 'string') for (const w of [v, `not-${v}`]) note(c.fact, w);
  };
  for (const [, r] of all) collect(r.when);
  /** A record of facts for a set: each of its facts missing, null, or one of its values. */
  const flatFor = (facts: readonly string[]): fc.Arbitrary<Flat> =>
    fc
      .tuple(...facts.map((f) => fc.option(fc.constantFrom(...(values.get(f) ?? ['yes'])), { freq: 3, nil: undefined })))
      .map((drawn) => Object.fromEntries(facts.map((f, i) => [f, drawn[i]]).filter(([, v]) => v !== undefined)) as Flat);

  test.each(RULE_SETS)('on random records of facts with holes in them: %s', async (set) => {
    const rules: readonly Rule[] = k.rules[set];
    const facts = [...new Set(rules.flatMap((r) => factsOf(r.when)))].sort();
    const truths = new Map<string, Set<Truth>>();
    const meet = async (flat: Flat) => {
      const out = await evaluateSet(rules, flat);
      for (const o of out) truths.set(o.rule.id, (truths.get(o.rule.id) ?? new Set()).add(o.truth));
      expect(partings(out, flat)).toEqual([]);
    };
    await fc.assert(fc.asyncProperty(flatFor(facts), meet), { numRuns: 120, seed: 31 });
    // A rule of many conditions holds too seldom by chance: rule by rule, over its own facts alone.
    for (const r of rules) await fc.assert(fc.asyncProperty(flatFor(factsOf(r.when)), meet), { numRuns: 25, seed: 32 });
    for (const r of rules) expect([...truths.get(r.id)!], r.id).toEqual(expect.arrayContaining(['fails', 'unknown']));
  });

  test('on rules nobody wrote: every operator, nested groups, "not", and one fact held against another', async () => {
    const name = fc.constantFrom('a', 'b', 'c', 'd');
    const number = fc.integer({ min: 0, max: 3 });
    const leaf = fc.oneof(
      fc.record({
        fact: name,
        operator: fc.constantFrom('in', 'notIn'),
        value: fc.array(number, { minLength: 1, maxLength: 3 }),
      }),
      fc.record({
        fact: name,
        operator: fc.constantFrom(...Object.keys(OPERATORS).filter((o) => o !== 'in' && o !== 'notIn')),
        value: fc.oneof({ weight: 2, arbitrary: number }, { weight: 1, arbitrary: fc.record({ fact: name }) }),
      }),
    );
    const { tree } = fc.letrec<{ tree: Condition; group: Condition }>((tie) => ({
      tree: fc.oneof({ maxDepth: 4, withCrossShrink: true }, leaf as fc.Arbitrary<Condition>, tie('group')),
      group: fc.oneof(
        fc.array(tie('tree'), { minLength: 1, maxLength: 3 }).map((list) => ({ all: list })),
        fc.array(tie('tree'), { minLength: 1, maxLength: 3 }).map((list) => ({ any: list })),
        tie('tree').map((c) => ({ not: c })),
      ),
    }));
    const facts = fc.dictionary(name, fc.option(number, { freq: 4 }), { maxKeys: 4 });
    const met = new Set<Truth>();
    await fc.assert(
      fc.asyncProperty(tree, facts, async (inner, flat) => {
        // The engine wants a group at the top.
        const rule: Rule = {
          id: 'drawn',
          over: 'case',
          when: { all: [inner] },
          then: {},
          because: '',
          sources: [],
          examples: [],
        };
        const out = await evaluateSet([rule], flat);
        met.add(out[0]!.truth);
        expect(partings(out, flat)).toEqual([]);
      }),
      { numRuns: 1500, seed: 33 },
    );
    expect([...met].sort()).toEqual(['fails', 'holds', 'unknown']);
  });

  test('and would part from a rule that was read wrongly', async () => {
    const rule = k.rules.stops.find((r) => r.id === 'stop-gas-smell')!;
    const out = await evaluateSet([rule], { gas_smell: 'yes' });
    expect(partings(out, { gas_smell: 'yes' })).toEqual([]);
    expect(partings(out, { gas_smell: 'no' })).toHaveLength(1);
    expect(partings(out, {})).toHaveLength(1);
  });
});
