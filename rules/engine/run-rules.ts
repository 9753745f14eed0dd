import { Engine } from 'json-rules-engine';
import type { Condition, Rule, Truth } from '../types.ts';

export type Flat = Record<string, unknown>;
export interface RuleOutcome<R extends Rule = Rule> {
  rule: R;
  truth: Truth;
  /** Facts without a value that the verdict hangs on; empty unless unknown. */
  missing: string[];
  /** Every fact the rule looked at, as it was. */
  saw: Flat;
}

interface Seen {
  all?: Seen[];
  any?: Seen[];
  not?: Seen;
  fact?: string;
  value?: unknown;
  valueResult?: unknown;
  factResult?: unknown;
  result?: boolean;
}
interface Folded {
  truth: Truth;
  missing: string[];
}

const known = (v: unknown) => v !== undefined && v !== null;
/** The names of facts a condition compares against (`value: {"fact": "x"}`). */
const otherFact = (value: unknown): string | undefined =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && 'fact' in value
    ? String((value as { fact: string }).fact)
    : undefined;

// The engine's own list of failures mixes "fails" with "nobody has told us": fold its result tree to three values.
function fold(node: Seen): Folded {
  if (node.all) return group(node.all.map(fold), 'fails', 'holds');
  if (node.any) return group(node.any.map(fold), 'holds', 'fails');
  if (node.not) {
    const inner = fold(node.not);
    return { truth: inner.truth === 'holds' ? 'fails' : inner.truth === 'fails' ? 'holds' : 'unknown', missing: inner.missing };
  }
  const missing: string[] = [];
  if (!known(node.factResult)) missing.push(String(node.fact));
  const other = otherFact(node.value);
  if (other && !known(node.valueResult)) missing.push(other);
  if (missing.length) return { truth: 'unknown', missing };
  return { truth: node.result ? 'holds' : 'fails', missing: [] };
}
function group(parts: Folded[], decides: Truth, otherwise: Truth): Folded {
  if (parts.some((p) => p.truth === decides)) return { truth: decides, missing: [] };
  const open = parts.filter((p) => p.truth === 'unknown');
  if (open.length) return { truth: 'unknown', missing: [...new Set(open.flatMap((p) => p.missing))] };
  return { truth: otherwise, missing: [] };
}

/** Every fact a condition names, in order of appearance. */
export function factsOf(when: Condition): string[] {
  const out = new Set<string>();
  const walk = (c: Condition): void => {
    if ('all' in c) c.all.forEach(walk);
    else if ('any' in c) c.any.forEach(walk);
    else if ('not' in c) walk(c.not);
    else {
      out.add(c.fact);
      const other = otherFact(c.value);
      if (other) out.add(other);
    }
  };
  walk(when);
  return [...out];
}

const memo = new WeakMap<readonly Rule[], { needs: string[]; results: Map<string, RuleOutcome[]> }>();
const MEMO_MAX = 4000;

/**
 * Runs rules over one item's flat facts, three-valued, in the order of the rules.
 * Memoised by the facts the rules can see; pass the same array to profit.
 * A new engine a call: one engine shared by two overlapping runs drops rules without an error.
 */
export async function evaluateSet<R extends Rule>(rules: readonly R[], facts: Flat): Promise<RuleOutcome<R>[]> {
  let kept = memo.get(rules);
  if (!kept) {
    kept = { needs: [...new Set(rules.flatMap((r) => factsOf(r.when)))].sort(), results: new Map() };
    memo.set(rules, kept);
  }
  const seen: Flat = {};
  for (const f of kept.needs) if (known(facts[f])) seen[f] = facts[f];
  const key = JSON.stringify(seen);
  const had = kept.results.get(key);
  if (had) return had as RuleOutcome<R>[];
  const engine = new Engine([], { allowUndefinedFacts: true });
  for (const r of rules) engine.addRule({ name: r.id, conditions: r.when as never, event: { type: 'rule' } });
  const run = await engine.run({ ...seen });
  const trees = new Map<string, Seen>();
  for (const r of [...run.results, ...run.failureResults]) trees.set(String(r.name), r.conditions as unknown as Seen);
  const out = rules.map((rule): RuleOutcome<R> => {
    const tree = trees.get(rule.id);
    if (!tree) throw new Error(`rule "${rule.id}" was not run`);
    const saw: Flat = {};
    for (const f of factsOf(rule.when)) saw[f] = seen[f] ?? null;
    return { rule, ...fold(tree), saw };
  });
  if (kept.results.size >= MEMO_MAX) kept.results.clear();
  kept.results.set(key, out);
  return out;
}

/** One rule on one item's facts. */
export async function evaluate(rule: Rule, facts: Flat): Promise<{ truth: Truth; missing: string[] }> {
  const [r] = await evaluateSet([rule], facts);
  return { truth: r!.truth, missing: r!.missing };
}
