import type { CaseFacts, Check, Prepared, Value } from '../types.ts';
import { asAsked } from './as-taken.ts';
import { latest } from './case.ts';
import { fitsCircuit } from './fits.ts';
import { measuredAs, readingClass } from './judge.ts';

/** What a check showed in this case, by the newest reading of each of its facts; undefined while one is missing. */
export function outcomeSeen(p: Prepared, f: CaseFacts, check: Check, line_v: number, scale?: number): string | undefined {
  const told = latest(f.readings);
  if (!check.settles.some((fact) => told.has(fact))) return undefined;
  // A reading taken otherwise than the check says is judged for what it is, and is no outcome of the check.
  const value = (fact: string): Value | undefined => {
    const r = told.get(fact);
    return r && !f.beside?.has(r.seq) && asAsked(p, check, r) ? r.value : undefined;
  };
  return outcomeOf(p, check, value, line_v, scale);
}

/** What every check of the knowledge showed in this case: check -> outcome, in the order of the knowledge. */
export function outcomesSeen(p: Prepared, f: CaseFacts, line_v: number, scale?: number): ReadonlyMap<string, string> {
  const out = new Map<string, string>();
  for (const check of p.knowledge.checks.values()) {
    const outcome = outcomeSeen(p, f, check, line_v, scale);
    if (outcome) out.set(check.id, outcome);
  }
  return out;
}

/** The outcome of a check whose facts read so. */
export function outcomeOf(
  p: Prepared,
  check: Check,
  value: (fact: string) => Value | undefined,
  line_v: number,
  scale?: number,
): string | undefined {
  const named = (fact: string): string | undefined => {
    const v = value(fact);
    if (v === undefined) return undefined;
    return measuredAs(check, fact) ? readingClass(p, check, fact, v, line_v, scale) : String(v);
  };
  for (const o of check.outcomes) {
    const parts = Object.entries(o.when).map(([fact, any]) => [named(fact), any] as const);
    if (parts.every(([v, any]) => v !== undefined && any.includes(v))) return o.id;
  }
  return undefined;
}

/** Was all that has to be seen first seen? A link to a check that this machine does not have is dropped. */
export function afterSeen(
  p: Prepared,
  after: { check: string; outcome: string }[] | undefined,
  seen: ReadonlyMap<string, string>,
): boolean {
  return (after ?? []).every((a) => {
    const check = p.knowledge.checks.get(a.check);
    if (!check || !p.circuits.some((m) => fitsCircuit(check, m.attributes))) return true;
    return seen.get(a.check) === a.outcome;
  });
}
