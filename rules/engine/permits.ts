import { usesPower } from '../knowledge/touches.ts';
import type { CaseFacts, Check, Knowledge, Prepared, Rule, RuleSet, Trace } from '../types.ts';
import { putBack } from './covers.ts';
import { fitsCircuit } from './fits.ts';
import { evaluateSet, type Flat } from './run-rules.ts';

const split = new WeakMap<readonly Rule[], Map<string, Rule[]>>();
/** The rules of a set that run over one kind of item; the same array every time, so that results are kept. */
export function over<S extends RuleSet>(k: Knowledge, set: S, what: Rule['over']): Rule<S>[] {
  const all: readonly Rule[] = k.rules[set];
  const had = split.get(all) ?? new Map<string, Rule[]>();
  split.set(all, had);
  const rules = had.get(what) ?? all.filter((r) => r.over === what);
  had.set(what, rules);
  return rules as Rule<S>[];
}

export interface Permitted {
  check: Check;
  rank: number;
  rule: string;
}

/**
 * Which checks this person may be asked to do now, each with its order class.
 * A rule that says no wins over any that says yes; no rule that says yes = not permitted.
 */
export async function permitted(
  p: Prepared,
  f: CaseFacts,
  flat: Flat,
  silenced: ReadonlySet<string>,
): Promise<{ checks: Permitted[]; trace: Trace[] }> {
  const k = p.knowledge;
  const met = new Map<string, 'yes' | 'no' | 'unknown'>();
  for (const x of await evaluateSet(over(k, 'permits', 'case'), flat))
    if (x.rule.then.meets) met.set(x.rule.then.meets, x.truth === 'holds' ? 'yes' : x.truth === 'fails' ? 'no' : 'unknown');
  const out: Permitted[] = [];
  const trace: Trace[] = [];
  const said = new Set<string>();
  for (const check of k.checks.values()) {
    if (!p.circuits.some((c) => fitsCircuit(check, c.attributes))) continue;
    const needs = check.needs.map((n) => met.get(n) ?? 'unknown');
    const item: Flat = {
      audience: f.audience,
      level: check.level,
      kind: check.kind,
      needs_met: needs.includes('no') ? 'no' : needs.includes('unknown') ? 'unknown' : 'yes',
      silenced: check.touches.some((t) => silenced.has(t)) ? 'yes' : 'no',
      qualified: flat.qualified ?? 'no',
      opt_in: met.get('opt-in') === 'yes' ? 'yes' : 'no',
      stop_stood: flat.stop_stood ?? 'no',
      ever_stopped: flat.ever_stopped,
      uses_power: usesPower(check.touches) ? 'yes' : 'no',
      must_not_run: flat.must_not_run ?? 'no',
      covers_wrong: putBack(k, f, check).length ? 'yes' : 'no',
    };
    const run = await evaluateSet(over(k, 'permits', 'check'), item);
    const no = run.find((x) => x.truth === 'holds' && x.rule.then.permit === 'no');
    const yes = run.find((x) => x.truth === 'holds' && x.rule.then.permit === 'yes');
    const by = no ?? yes;
    if (by && !said.has(by.rule.id)) {
      said.add(by.rule.id);
      trace.push({ set: 'permits', rule: by.rule.id, item: check.id, truth: 'holds', saw: by.saw });
    }
    if (no || !yes) continue;
    // A question needs no state; it is put to whoever stands before the machine as it is.
    const state = k.states.get(check.state);
    const order = (
      await evaluateSet(over(k, 'order', 'check'), {
        kind: check.kind,
        level: check.level,
        plugged: (state?.plugged ?? true) ? 'yes' : 'no',
        supply_reading: check.supplyReading ? 'yes' : 'no',
        uses_power: item.uses_power,
      })
    ).find((x) => x.truth === 'holds');
    if (order) out.push({ check, rank: order.rule.then.rank, rule: order.rule.id });
  }
  return { checks: out, trace };
}
