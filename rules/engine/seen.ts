import { asFact } from '../knowledge/as-fact.ts';
import { type CaseFacts, type Check, type Knowledge, type Prepared, RULE_SETS, type Rule } from '../types.ts';
import { outcomeSeen } from './outcome.ts';
import { type Flat, factsOf } from './run-rules.ts';

/** What checks have shown, as a rule names it: `seen_<check>` is the outcome. Of those that some rule asks about. */
export function seenFlat(p: Prepared, f: CaseFacts, line_v: number, scale?: number): Flat {
  const out: Flat = {};
  for (const [name, check] of askedAbout(p.knowledge)) out[name] = outcomeSeen(p, f, check, line_v, scale);
  return out;
}

const seenInRules = new WeakMap<Knowledge, Map<string, Check>>();
function askedAbout(k: Knowledge): Map<string, Check> {
  const had = seenInRules.get(k);
  if (had) return had;
  const named = new Set(RULE_SETS.flatMap((set) => (k.rules[set] as Rule[]).flatMap((r) => factsOf(r.when))));
  const out = new Map([...k.checks.values()].map((c) => [asFact('seen', c.id), c] as const).filter(([name]) => named.has(name)));
  seenInRules.set(k, out);
  return out;
}
