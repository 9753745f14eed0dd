import { asFact } from './as-fact.ts';
import { orDidYouMean } from './closest.ts';
import { HEARD_OVER, type RuleWords } from './rule.ts';
import type { Check, Condition, Fact, Rule, RuleSet } from './types.ts';

interface Known {
  facts: ReadonlyMap<string, Fact>;
  attributes: ReadonlySet<string>;
  families: Iterable<string>;
  needs: Iterable<string>;
  checks: ReadonlyMap<string, Check>;
  vocabulary: RuleWords;
  findings: Iterable<string>;
}
type Kind = 'number' | 'word' | readonly string[];

const ORDERED = ['lessThan', 'lessThanInclusive', 'greaterThan', 'greaterThanInclusive'];

// Rules over the case see the family in talk as `family_x` and what a check showed as `seen_x`; over a check, which needs are met as `met_x`.
// Rules over the case see every fact told; `unsure_x` where somebody could not tell x; `machine_x` for an attribute all machines in hand share.
function namesFor(over: Rule['over'], k: Known): Map<string, Kind> {
  const out = new Map<string, Kind>();
  if (over === 'case' || over === 'suspect') {
    for (const f of k.facts.values()) {
      out.set(f.id, f.kind === 'quantity' ? 'number' : (f.choices ?? []));
      if (f.kind === 'choice') out.set(`unsure_${f.id}`, ['yes']);
    }
    for (const id of k.findings) out.set(id, ['yes', 'no']);
    for (const a of k.attributes) out.set(`machine_${a.replaceAll('-', '_')}`, ['yes', 'no']);
    for (const id of k.families) out.set(asFact('family', id), ['yes', 'no']);
    for (const c of k.checks.values())
      out.set(
        asFact('seen', c.id),
        c.outcomes.map((o) => o.id),
      );
    for (const [name, kind] of Object.entries(k.vocabulary.case)) out.set(name, kind);
  }
  if (over === 'check') for (const id of k.needs) out.set(asFact('met', id), ['yes', 'no', 'unknown']);
  for (const [name, kind] of Object.entries(k.vocabulary[over])) out.set(name, kind);
  return out;
}

/** Conditions on facts nobody gives, and comparisons that can never be right. */
export function conditionProblems(when: Condition, over: Rule['over'], known: Known): string[] {
  const names = namesFor(over, known);
  const out: string[] = [];
  const walk = (c: Condition): void => {
    if ('all' in c) c.all.forEach(walk);
    else if ('any' in c) c.any.forEach(walk);
    else if ('not' in c) walk(c.not);
    else leaf(c);
  };
  const leaf = (c: { fact: string; operator: string; value: unknown }): void => {
    const where = `condition on "${c.fact}"`;
    const kind = names.get(c.fact);
    if (kind === undefined) {
      out.push(`${where}: a rule over a ${over} sees no such fact${orDidYouMean(c.fact, names.keys())}`);
      return;
    }
    const list = c.operator === 'in' || c.operator === 'notIn';
    if (list && !Array.isArray(c.value)) {
      out.push(`${where}: "${c.operator}" needs a list`);
      return;
    }
    if (!list && Array.isArray(c.value)) {
      out.push(`${where}: "${c.operator}" compares with one value, not a list`);
      return;
    }
    if (ORDERED.includes(c.operator) && kind !== 'number') {
      out.push(`${where}: is a word; "${c.operator}" compares numbers`);
      return;
    }
    for (const v of list ? (c.value as unknown[]) : [c.value]) {
      if (typeof v === 'object' && v !== null && 'fact' in v) {
        const other = String((v as { fact: unknown }).fact);
        if (!names.has(other))
          out.push(`${where}: a rule over a ${over} sees no fact "${other}" to compare with${orDidYouMean(other, names.keys())}`);
      } else if (kind === 'number') {
        if (typeof v !== 'number') out.push(`${where}: is a number and cannot be compared with ${JSON.stringify(v)}`);
      } else if (typeof v !== 'string') out.push(`${where}: is a word and cannot be compared with ${JSON.stringify(v)}`);
      else if (kind !== 'word' && !kind.includes(v)) out.push(`${where}: "${v}" is not one of ${kind.join(', ')}`);
    }
  };
  walk(when);
  return out;
}

/** Something said over an item at which nobody listens for it. */
export function unheard(set: RuleSet, r: Rule): string[] {
  return Object.keys(r.then).flatMap((key) => {
    const over = HEARD_OVER[set][key];
    return over === undefined || over === r.over
      ? []
      : [`over: "${key}" is asked over each ${over}; over "${r.over}" nobody hears it`];
  });
}
