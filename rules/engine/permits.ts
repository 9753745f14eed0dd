import { asFact } from '../knowledge/as-fact.ts';
import { usesPower } from '../knowledge/touches.ts';
import type { CaseFacts, Check, Knowledge, Prepared, Rule, RuleSet, Trace, Truth } from '../types.ts';
import { putBack } from './covers.ts';
import { fitsCircuit } from './fits.ts';
import { evaluateSet, type Flat, type RuleOutcome } from './run-rules.ts';

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

/** What may be asked now; `waitFor`: needs that would open more if they were met. */
export interface Permits {
  checks: Permitted[];
  waitFor: Set<string>;
  trace: Trace[];
}

/**
 * Which checks this person may be asked to do now, each with its order class.
 * A rule that says no wins over any that says yes; no rule that says yes = not permitted.
 */
export async function permitted(p: Prepared, f: CaseFacts, flat: Flat, silenced: ReadonlySet<string>): Promise<Permits> {
  const k = p.knowledge;
  const met = await needsMet(k, flat);
  const ofCase: Flat = {
    ...Object.fromEntries([...met].map(([need, is]) => [asFact('met', need), is])),
    audience: f.audience,
    qualified: flat.qualified ?? 'no',
    opt_in: met.get('opt-in') === 'yes' ? 'yes' : 'no',
    stop_stood: flat.stop_stood ?? 'no',
    ever_stopped: flat.ever_stopped,
    must_not_run: flat.must_not_run ?? 'no',
  };
  const out: Permitted[] = [];
  const trace = new Map<string, Trace>();
  const waitFor = new Set<string>();
  // Checks alike in all that the rules see share one answer.
  const alike = new Map<string, Ruled>();
  for (const seen of checksHere(p)) {
    const { check } = seen;
    const ofCheck = flatOf(k, f, seen, met, silenced);
    const key = `${seen.key}|${Object.values(ofCheck)}`;
    const ruled = alike.get(key) ?? (await ruledBy(k, { ...ofCase, ...seen.always, ...ofCheck }));
    alike.set(key, ruled);
    const { noes, yes, order } = ruled;
    const by = noes[0] ?? yes;
    if (by && !trace.has(by.rule.id))
      trace.set(by.rule.id, { set: 'permits', rule: by.rule.id, item: check.id, truth: 'holds', saw: by.saw });
    // What one rule alone bars, and for a time, waits for what that rule names.
    const until = noes.length === 1 && yes ? noes[0]!.rule.then.until : undefined;
    if (until) waitFor.add(until);
    if (!noes.length && yes && order) out.push({ check, rank: order.rule.then.rank, rule: order.rule.id });
  }
  return { checks: out, waitFor, trace: [...trace.values()] };
}

type Met = 'yes' | 'no' | 'unknown';
/** Is each need of a check met, by the rules that say so? */
async function needsMet(k: Knowledge, flat: Flat): Promise<ReadonlyMap<string, Met>> {
  const out = new Map<string, Met>();
  for (const x of await evaluateSet(over(k, 'permits', 'case'), flat))
    if (x.rule.then.meets) out.set(x.rule.then.meets, MET[x.truth]);
  return out;
}
const MET: Record<Truth, Met> = { holds: 'yes', fails: 'no', unknown: 'unknown' };

interface Ruled {
  noes: RuleOutcome<Rule<'permits'>>[];
  yes: RuleOutcome<Rule<'permits'>> | undefined;
  order: RuleOutcome<Rule<'order'>> | undefined;
}
async function ruledBy(k: Knowledge, item: Flat): Promise<Ruled> {
  const run = (await evaluateSet(over(k, 'permits', 'check'), item)).filter((x) => x.truth === 'holds');
  return {
    noes: run.filter((x) => x.rule.then.permit === 'no'),
    yes: run.find((x) => x.rule.then.permit === 'yes'),
    order: (await evaluateSet(over(k, 'order', 'check'), item)).find((x) => x.truth === 'holds'),
  };
}

const say = (is: boolean) => (is ? 'yes' : 'no');

/** A check, and what the rules see of it in every case. */
interface CheckHere {
  check: Check;
  always: Flat;
  /** All of `always` as one word. */
  key: string;
}
const here = new WeakMap<Prepared, CheckHere[]>();
/** The checks that a machine which may be this one has. */
function checksHere(p: Prepared): CheckHere[] {
  let checks = here.get(p);
  if (!checks) {
    const { checks: all, states } = p.knowledge;
    checks = [...all.values()]
      .filter((check) => p.circuits.some((c) => fitsCircuit(check, c.attributes)))
      .map((check) => {
        const always: Flat = {
          level: check.level,
          kind: check.kind,
          uses_power: say(usesPower(check.touches)),
          // A question needs no state; it is put to whoever stands before the machine as it is.
          plugged: say(states.get(check.state)?.plugged ?? true),
          supply_reading: say(check.supplyReading ?? false),
        };
        return { check, always, key: Object.values(always).join() };
      });
    here.set(p, checks);
  }
  return checks;
}

/** What the rules see of a check as this case stands. */
function flatOf(
  k: Knowledge,
  f: CaseFacts,
  { check }: CheckHere,
  met: ReadonlyMap<string, Met>,
  silenced: ReadonlySet<string>,
): Flat {
  const needs = check.needs.map((n) => met.get(n) ?? 'unknown');
  return {
    needs_met: needs.includes('no') ? 'no' : needs.includes('unknown') ? 'unknown' : 'yes',
    silenced: say(check.touches.some((t) => silenced.has(t))),
    covers_wrong: say(putBack(k, f, check).length > 0),
  };
}
