import { foldCase, forMachine, withCoversInFront } from '../../rules/engine/case.ts';
import { caseFlat } from '../../rules/engine/derive.ts';
import { fitsCircuit } from '../../rules/engine/fits.ts';
import { word } from '../../rules/engine/likelihood.ts';
import { outcomeOf } from '../../rules/engine/outcome.ts';
import { prepare } from '../../rules/engine/prepare.ts';
import { evaluateSet, type Flat } from '../../rules/engine/run-rules.ts';
import { wordsOfTalk } from '../../rules/engine/talk.ts';
import { usesPower } from '../../rules/knowledge/touches.ts';
import { buildNet, solve } from '../../rules/physics/index.ts';
import type { Answer, Audience, Check, Effect, Knowledge, Level, Prepared, Rule, RuleSet } from '../../rules/types.ts';
import { answerOf } from '../answers.ts';
import situations from '../data/circuit-situations.json' with { type: 'json' };
import exposure from '../data/expected-exposure.json' with { type: 'json' };
import families from '../data/expected-families.json' with { type: 'json' };
import limits from '../data/expected-limits.json' with { type: 'json' };
import outcomes from '../data/expected-outcomes.json' with { type: 'json' };
import said from '../data/expected-rules.json' with { type: 'json' };
import signs from '../data/expected-signs.json' with { type: 'json' };
import danger from '../data/expected-stops.json' with { type: 'json' };
import { FAULTS } from '../dryer/faults.ts';

/** Something true of the knowledge that is stated outside it. `reads`: the files it hangs on, a folder with its slash. */
export interface Expectation {
  name: string;
  reads: string[];
  /** One line for each thing that is not as stated. */
  unmet: (k: Knowledge) => string[] | Promise<string[]>;
}

const same = (a: readonly unknown[], b: readonly unknown[]) => [...a].sort().join() === [...b].sort().join();
const AUDIENCES: Audience[] = ['homeowner', 'agent', 'technician'];
const rulesOver = <S extends RuleSet>(k: Knowledge, set: S, over: string): Rule<S>[] =>
  (k.rules[set] as Rule<S>[]).filter((r) => r.over === over);
const holding = async <S extends RuleSet>(k: Knowledge, set: S, over: string, facts: Flat) =>
  (await evaluateSet<Rule<S>>(rulesOver(k, set, over), facts)).filter((r) => r.truth === 'holds').map((r) => r.rule);

/** A case in which somebody told just these answers; a fact told as undefined was "not sure". */
function told(k: Knowledge, all: Record<string, string | undefined>, by: Audience = 'homeowner'): Flat {
  const answers = Object.entries(all).map(([fact, value], i): Answer => {
    const base = { seq: i + 1, fact, said: '', by };
    return answerOf(value === undefined ? { ...base, act: 'unsure' } : { ...base, value });
  });
  const f = foldCase(k, { audience: by, families: ['no-heat'], units: 'us' }, answers);
  return caseFlat(k, f, { circuits: [], plate: {}, hookup: 'unknown', meter: '', system: '' });
}

const stopsHolding = async (k: Knowledge, answers: Record<string, string | undefined>) =>
  (await holding(k, 'stops', 'case', told(k, answers))).map((r) => r.then.stop).filter((s) => s !== undefined);

/** Every way of meeting a sign: one answer for each of its facts. */
const ways = (when: Record<string, readonly string[]>): Record<string, string>[] =>
  Object.entries(when).reduce<Record<string, string>[]>(
    (out, [fact, any]) => out.flatMap((o) => any.map((v) => ({ ...o, [fact]: v }))),
    [{}],
  );

async function stops(k: Knowledge): Promise<string[]> {
  const out: string[] = [];
  const order: number[] = [];
  const dangerous = new Map<string, Set<string>>();
  for (const s of danger.stops) {
    const stop = k.stops.get(s.id);
    if (!stop) {
      out.push(`${s.id} is missing`);
      continue;
    }
    order.push(stop.precedence);
    if (!same(stop.thenWho, s.call) || stop.thenWho[0] !== s.call[0]) out.push(`${s.id} calls ${stop.thenWho}, stated ${s.call}`);
    for (const [key, is, stated] of [
      ['may use', stop.mayUse, s.mayUse],
      ['priority', stop.priority, s.priority],
      ['stands until', stop.standsUntil, s.until],
    ])
      if (is !== stated) out.push(`${s.id}: ${key} ${is}, stated ${stated}`);
    for (const t of s.silences) if (!(stop.suppresses as string[]).includes(t)) out.push(`${s.id} does not silence ${t}`);
    // What a meter finds stops as well as what is told in words.
    for (const finding of (s as { found?: string[] }).found ?? [])
      for (const is of ['yes', 'no'])
        if (
          (await holding(k, 'stops', 'case', { ...told(k, {}), [finding]: is })).some((r) => r.then.stop === s.id) !==
          (is === 'yes')
        )
          out.push(`${s.id}: ${finding} ${is} ${is === 'yes' ? 'does not stop' : 'stops'}`);
    for (const when of s.when as unknown as Record<string, string[]>[]) {
      for (const way of ways(when))
        if (!(await stopsHolding(k, way)).includes(s.id)) out.push(`${s.id} does not stop ${JSON.stringify(way)}`);
      const unsure = (s as { orUnsure?: string }).orUnsure;
      if (unsure && unsure in when && !(await stopsHolding(k, { ...ways(when)[0], [unsure]: undefined })).includes(s.id))
        out.push(`${s.id} lets pass who is not sure of ${unsure}`);
      const [fact, any] = Object.entries(when)[0]!;
      if (Object.keys(when).length === 1) dangerous.set(fact, new Set([...(dangerous.get(fact) ?? []), ...any]));
      // Each fact of a sign is needed: without it, or told otherwise, the sign does not stop.
      const one = ways(when)[0]!;
      for (const f of Object.keys(one)) {
        const { [f]: _, ...rest } = one;
        const others = (k.facts.get(f)?.choices ?? []).filter(
          (c) =>
            !k.facts.get(f)!.noEvidence?.includes(c) &&
            !s.when.some((w) => (w as unknown as Record<string, string[]>)[f]?.includes(c)),
        );
        for (const other of [undefined, ...others]) {
          const answers: Record<string, string> = other === undefined ? rest : { ...rest, [f]: other };
          if ((await stopsHolding(k, answers)).includes(s.id)) out.push(`${s.id} stops ${JSON.stringify(answers)}`);
        }
      }
    }
  }
  if (order.some((p, i) => i > 0 && p <= order[i - 1]!)) out.push('the most urgent does not come first');
  for (const [fact, answer] of Object.entries(danger.asYes))
    if (told(k, { [fact]: undefined })[fact] !== answer) out.push(`not sure of ${fact} does not count as ${answer}`);
  // Two signs are weighed with what else was told, not alone.
  for (const [fact, any] of dangerous)
    for (const a of any)
      if (fact !== 'signs_of_life' && fact !== 'changed_before' && !k.facts.get(fact)?.danger?.includes(a))
        out.push(`${fact} ${a} is no danger`);
  for (const f of danger.gasSilences)
    for (const answers of [{}, { fuel: 'gas' }, { gas_smell: 'yes' }] as Record<string, string>[])
      if (
        !(await holding(k, 'stops', 'case', told(k, answers))).some((r) => (r.then.silence as string[] | undefined)?.includes(f))
      )
        out.push(`gas not cleared (${JSON.stringify(answers)}) does not silence ${f}`);
  for (const answers of [{ fuel: 'electric' }, { fuel: 'gas', gas_smell: 'no' }] as Record<string, string>[])
    if ((await holding(k, 'stops', 'case', told(k, answers))).some((r) => r.then.silence))
      out.push(`silenced though ${JSON.stringify(answers)}`);
  for (const a of AUDIENCES)
    for (const safe of ['yes', 'no', undefined]) {
      const lifts = (await holding(k, 'stops', 'case', told(k, safe ? { made_safe: safe } : {}, a))).some((r) => r.then.lifts);
      if (lifts !== (a === 'technician' && safe === 'yes')) out.push(`made safe ${safe} by a ${a} lifts: ${lifts}`);
    }
  return out;
}

/** Everything a permit rule sees of a check that nothing speaks against. */
const PLAIN = {
  kind: 'worth',
  needs_met: 'yes',
  silenced: 'no',
  qualified: 'no',
  opt_in: 'no',
  uses_power: 'no',
  stop_stood: 'no',
  ever_stopped: 'no',
  must_not_run: 'no',
  covers_wrong: 'no',
  met_dead_first: 'no',
  met_insulation_cleared: 'unknown',
  met_wet_inside: 'unknown',
};
const POWER = { qualified: 'yes', uses_power: 'yes' };
const PERMITS: Partial<typeof PLAIN>[] = [
  {},
  { opt_in: 'yes' },
  { qualified: 'yes' },
  { opt_in: 'yes', qualified: 'yes', silenced: 'yes' },
  { opt_in: 'yes', qualified: 'yes', needs_met: 'no' },
  { opt_in: 'yes', qualified: 'yes', needs_met: 'unknown' },
  POWER,
  { ...POWER, stop_stood: 'yes', ever_stopped: 'yes' },
  { qualified: 'yes', stop_stood: 'yes', ever_stopped: 'yes' },
  { ...POWER, ever_stopped: 'yes' },
  { ...POWER, must_not_run: 'yes' },
  { qualified: 'yes', must_not_run: 'yes' },
  { ...POWER, covers_wrong: 'yes' },
  { ...POWER, covers_wrong: 'yes', opt_in: 'yes' },
  { ...POWER, met_dead_first: 'yes' },
  { ...POWER, met_dead_first: 'yes', met_insulation_cleared: 'no' },
  { ...POWER, met_dead_first: 'yes', met_insulation_cleared: 'yes' },
  { qualified: 'yes', met_dead_first: 'yes' },
  { ...POWER, met_wet_inside: 'yes' },
  { ...POWER, met_wet_inside: 'no' },
  { qualified: 'yes', met_wet_inside: 'yes' },
];

/** Who may be asked what: the exposure table, row by row. */
async function permits(k: Knowledge): Promise<string[]> {
  const out: string[] = [];
  for (const audience of AUDIENCES)
    for (const level of [0, 1, 2, 3, 4, 5] as Level[])
      for (const row of PERMITS) {
        const x = { ...PLAIN, ...row };
        let most = audience === 'technician' ? 3 : audience === 'homeowner' && x.opt_in === 'yes' ? 3 : 1;
        if (audience === 'technician' && x.qualified === 'yes') most = 4;
        // After a danger no power; whoever is no technician has none either once one was told, misheard or not.
        const noPower =
          x.stop_stood === 'yes' ||
          x.must_not_run === 'yes' ||
          x.met_wet_inside === 'yes' ||
          (x.ever_stopped === 'yes' && audience !== 'technician') ||
          (x.met_dead_first === 'yes' && x.met_insulation_cleared !== 'yes');
        const open = x.covers_wrong === 'yes' && audience !== 'technician' && x.opt_in === 'no';
        const may =
          level <= most && x.silenced === 'no' && x.needs_met === 'yes' && !(noPower && x.uses_power === 'yes') && !open;
        const item = { ...x, audience, level };
        const said = (await holding(k, 'permits', 'check', item)).map((r) => r.then.permit);
        if ((said.includes('yes') && !said.includes('no')) !== may) out.push(`${JSON.stringify(item)} may be asked: ${!may}`);
      }
  return out;
}

/** When a condition of permit is met: each of its facts is needed, and no other answer does. */
async function needs(k: Knowledge): Promise<string[]> {
  const out: string[] = [];
  const known = new Set(k.rules.permits.map((r) => r.then.meets));
  for (const [need, list] of Object.entries(said.needs) as [string, Record<string, (string | number)[]>[]][])
    for (const way of known.has(need) ? list : []) {
      const one = Object.fromEntries(Object.entries(way).map(([f, any]) => [f, any[0]]));
      const met = async (facts: Flat) => (await holding(k, 'permits', 'case', facts)).some((r) => r.then.meets === need);
      for (const [f, any] of Object.entries(way)) {
        for (const v of any)
          if (!(await met({ ...one, [f]: v }))) out.push(`${need} is not met by ${JSON.stringify({ ...one, [f]: v })}`);
        const choices: readonly (string | number)[] =
          k.facts.get(f)?.choices ?? (said.words as Record<string, (string | number)[]>)[f] ?? [];
        for (const v of [undefined, ...choices]) {
          const facts: Flat = { ...one, [f]: v };
          if (list.some((w) => Object.entries(w).every(([x, ok]) => ok.includes(facts[x] as string)))) continue;
          if (await met(facts)) out.push(`${need} is met by ${JSON.stringify(facts)}`);
        }
      }
    }
  return out;
}

/** What the other sets say, row by row: facts in, the first rule that speaks out. */
async function spoken(k: Knowledge): Promise<string[]> {
  const out: string[] = [];
  for (const { set, over, key, rows } of said.tables as unknown as {
    set: RuleSet;
    over: string;
    key: string;
    rows: [Flat, unknown][];
  }[])
    for (const [facts, stated] of rows) {
      const thens = (await holding(k, set, over, facts)).map((r) => r.then as Record<string, unknown>);
      const is = thens.find((then) => then[key] !== undefined)?.[key] ?? null;
      if (is !== stated) out.push(`${set} ${JSON.stringify(facts)}: ${is}, stated ${stated}`);
    }
  return out;
}

/** Level, needs and what is operated follow from what a check is. */
function exposed(k: Knowledge): string[] {
  const out: string[] = [];
  for (const [level, ids] of Object.entries(exposure.levels))
    for (const id of ids)
      if (k.checks.has(id) && k.checks.get(id)!.level !== Number(level))
        out.push(`${id} is of level ${k.checks.get(id)!.level}, stated ${level}`);
  for (const [state, ids] of Object.entries(exposure.states))
    for (const id of ids)
      if (k.checks.has(id) && k.checks.get(id)!.state !== state)
        out.push(`${id} is done in ${k.checks.get(id)!.state}, stated ${state}`);
  for (const [id, all] of Object.entries(exposure.needsAtLeast))
    for (const n of all)
      if (k.checks.get(id) && !k.checks.get(id)!.needs.includes(n)) out.push(`${id} may be asked without ${n}`);
  for (const [id, on] of Object.entries(exposure.comesOff))
    for (const m of on)
      if (k.checks.get(id) && !forMachine(k.checks.get(id)!.measure?.lift, m)) out.push(`${id} on ${m}: a lead has to come off`);
  for (const [id, all] of Object.entries(exposure.operates))
    for (const t of all)
      if (k.checks.get(id) && !(k.checks.get(id)!.touches as string[]).includes(t))
        out.push(`${id} does not say that it works the ${t}`);
  for (const [proof, as] of Object.entries(exposure.provedAs)) {
    const at = (id: string) => JSON.stringify(k.checks.get(id)?.measure?.reads.map((r) => r.points));
    if (at(proof) !== at(as)) out.push(`${proof} is not read where ${as} is`);
  }
  const pair = (p: readonly string[]) => [...p].sort().join('-');
  for (const [id, by] of Object.entries(exposure.leads as Record<string, Record<string, string>>))
    for (const [machine, stated] of Object.entries(by))
      for (const m of machine === '*' ? k.machines.keys() : [machine]) {
        const reads = k.checks.get(id)?.measure?.reads.flatMap((r) => forMachine(r.points, m) ?? []) ?? [];
        const is = reads.flatMap((_, i) => (i % 2 ? [] : pair(reads.slice(i, i + 2)))).join(' ');
        const want = stated
          .split(' ')
          .map((p) => pair(p.split('-')))
          .join(' ');
        if (is !== want) out.push(`${id} on ${m} is read at ${is}, stated ${want}`);
      }
  for (const c of k.checks.values()) {
    const must = (when: boolean, holds: boolean, what: string) => {
      if (when && !holds) out.push(`${c.id}: ${what}`);
    };
    const state = k.states.get(c.state);
    const needs = (...any: string[]) => any.some((n) => c.needs.includes(n));
    const operates = (...all: string[]) => all.every((t) => (c.touches as string[]).includes(t));
    const open = Object.values(c.covers).some((ids) => withCoversInFront(k, ids).length > 0);
    must(c.measure?.what === 'ohms', c.level === 3, 'ohms are read with the plug out, level 3');
    must(c.measure !== undefined && c.measure.what !== 'ohms', c.level === 4, 'volts and amps are live, level 4');
    must(c.measure?.what === 'ohms', state?.plugged === false, 'ohms on a machine that is plugged in');
    must(true, needs('qualified') === (c.level === 4), 'live work and "qualified" go together');
    must(
      true,
      needs('technician-only', 'opt-in') || c.level < 2 || c.level > 3,
      'covers off is for a technician, or after the opt-in',
    );
    must(needs('opt-in'), needs('plug-out') && needs('owns-meter') && c.level >= 2, 'the opt-in is for dead work with a meter');
    must(open, c.level >= 2, 'a cover comes off');
    must(open || c.state.startsWith('unplugged'), operates('plug-out', 'touch-machine'), 'the plug and the machine are handled');
    must(
      c.level >= 2 && c.state.startsWith('unplugged') && c.measure?.what !== 'volts',
      needs('plug-out'),
      'the plug has to be out',
    );
    must(c.state.startsWith('run'), operates('run', 'switch', 'touch-machine'), 'it is run');
    must(c.level === 4, operates('live'), 'the power is on');
    must(c.state.startsWith('run') && open, operates('plug-in'), 'the plug goes in again');
    // Hot is how a motor is only after it has run.
    const ran = c.state === 'unplugged-hot';
    must(c.state.startsWith('unplugged') && c.level < 4, usesPower(c.touches) === ran, 'power on a machine that is unplugged');
    must(c.level === 1 && c.state.startsWith('run'), needs('no-stop-ever') && needs('no-tingle'), 'a run after a danger sign');
    must(
      ['breaker-off', 'breaker-on', 'panel'].some((t) => operates(t)),
      operates('breaker-off', 'panel', 'switch') && needs('closing-allowed', 'panel-safe'),
      'the panel is handled',
    );
    must(/plug|cord|receptacle/.test(c.id) && c.level >= 2 && c.kind === 'worth', needs('not-hard-wired'), 'there is a plug');
    must(
      c.level === 1 && c.state !== 'any' && operates('touch-machine') && c.kind !== 'cause',
      needs('no-tingle'),
      'a hand on the case',
    );
  }
  return out;
}

/** Who mends what first, what may not be used meanwhile, and which faults only change the ohms of a part. */
function ends(k: Knowledge): string[] {
  const out: string[] = [];
  for (const [trade, ids] of Object.entries(exposure.firstTrade))
    for (const id of ids) {
      const is = k.faults.get(id)?.end.trades[0];
      if (is !== trade) out.push(`${id} goes to ${is}, stated ${trade}`);
    }
  for (const id of exposure.notToBeUsed) if (k.faults.get(id)?.end.mayUse !== 'no') out.push(`${id} may be used`);
  for (const id of exposure.notQuiteOpen)
    for (const e of k.faults.get(id)?.effects ?? [])
      if ('branch' in e && typeof e.ohm !== 'number') out.push(`${id} leaves ${e.branch} ${e.ohm}, it only changes its ohms`);
  for (const id of exposure.notFreely) if (k.faults.get(id)?.end.mayUse === 'yes') out.push(`${id} may be used freely`);
  return out;
}

/** What a person sees with one fault in: the answers that are usual, and none but those. */
function seen(k: Knowledge): string[] {
  const out: string[] = [];
  const loud = (w: string | undefined) => w === 'always' || w === 'usual';
  for (const [id, facts] of Object.entries(signs.mostly as Record<string, Record<string, string[]>>))
    for (const [fact, stated] of Object.entries(facts)) {
      const by = k.faults.get(id)?.signs[fact] ?? {};
      const is = Object.keys(by).filter((a) => loud(by[a]));
      if (!same(is, stated)) out.push(`${id} mostly shows ${fact} ${is}, stated ${stated}`);
    }
  // The dryer of the circuit simulator has its own list of what is seen and told of a cold dryer.
  const cold = wordsOfTalk(k, ['no-heat']);
  for (const [id, { told: all }] of Object.entries(FAULTS))
    for (const [fact, stated] of Object.entries(all ?? {})) {
      const fault = cold.faults.get(id);
      if (!fault?.weight['no-heat'] || !fault.signs[fact]) continue;
      const any = [stated].flat();
      for (const a of any)
        if (['never', undefined].includes(word(cold, [id], fact, a)))
          out.push(`${id} never shows ${fact} ${a}, stated otherwise`);
      if (any.length === 1 && any.some((a) => word(cold, [id], fact, a) === 'rare'))
        out.push(`${id} seldom shows ${fact} ${any}, stated otherwise`);
      for (const [a, w] of Object.entries(fault.signs[fact]))
        if (w === 'always' && !any.includes(a)) out.push(`${id} always shows ${fact} ${a}, stated ${any}`);
    }
  return out;
}

const preparedOn = (k: Knowledge, machine: string, heater_w?: number): Prepared =>
  prepare(k, {
    circuits: [machine],
    plate: heater_w === undefined ? {} : { heater_w },
    hookup: 'four-wire',
    meter: [...k.meters.keys()][0]!,
    system: k.supply.systems[0]!.id,
  });
function outcome(p: Prepared, check: Check, faults: string[], line_v = 240): string | null {
  const [shown] = p.expected(check.id, faults, 1);
  if (shown === undefined || shown === 'will-not-run') return shown ?? null;
  return outcomeOf(p, check, (fact) => shown.find((x) => x.fact === fact)?.centre, line_v, 1) ?? null;
}
/** The line a fault leaves: a building on 208 V is measured as such before anything is held against it. */
const lineOf = (k: Knowledge, fault: string | undefined): number =>
  fault && k.faults.get(fault)!.effects.some((e) => 'supply' in e && e.supply === 'wye208') ? 208 : 240;
type Stated = Record<string, Record<string, { default: string; exceptions: Record<string, string[]> }>>;
type Later = Record<
  string,
  { default: string; exceptions: Record<string, string[]>; on?: Record<string, Record<string, string[]>> }
>;

/** What each check shows on a sound machine and under a fault or two of each kind, as stated by hand. */
function shown(k: Knowledge): string[] {
  const out: string[] = [];
  const on = new Map([...k.machines.keys()].map((m) => [m, preparedOn(k, m, 5400)]));
  const meet = (id: string, machine: string, fault: string | undefined, stated: string | null) => {
    const p = on.get(machine);
    const check = k.checks.get(id);
    if (!p || !check || (fault && !fitsCircuit(k.faults.get(fault)!, p.circuits[0]!.attributes))) return;
    const is = outcome(p, check, fault ? [fault] : [], lineOf(k, fault));
    if (is !== stated) out.push(`${id} on ${machine} with ${fault ?? 'nothing wrong'}: ${is}, stated ${stated}`);
  };
  // Each outcome by its first and last fault, and each fault at two checks of each machine at least.
  const met = new Map<string, number>();
  for (const [id, byMachine] of Object.entries(outcomes as Stated))
    for (const [machine, says] of Object.entries(byMachine)) {
      meet(id, machine, undefined, says.default);
      for (const [o, ids] of Object.entries(says.exceptions))
        ids.forEach((f, i) => {
          const times = met.get(`${machine} ${f}`) ?? 0;
          if (i > 0 && i < ids.length - 1 && times >= 2) return;
          met.set(`${machine} ${f}`, times + 1);
          meet(id, machine, f, o);
        });
    }
  // With some faults nothing turns; others read at an older check as only they do.
  const later = families as unknown as { rest: string[]; but: Record<string, Record<string, string | null>> };
  for (const machine of on.keys()) {
    for (const f of later.rest)
      meet('supply-at-block-heat', machine, f, later.but[f]?.['supply-at-block-heat'] ?? 'will-not-run');
    for (const [f, by] of Object.entries(later.but))
      for (const [at, o] of Object.entries(by)) {
        const [id, only] = at.split('@');
        const own = by[`${id}@${machine}`];
        if ((outcomes as Stated)[id!]?.[machine] && (only ? only === machine : own === undefined)) meet(id!, machine, f, o);
      }
  }
  // The proof at rest is the reading at rest, taken once more; any proof by meter passes on a sound machine.
  for (const check of k.checks.values())
    if (check.kind === 'proof' && check.measure)
      for (const [machine, p] of on) {
        if (!fitsCircuit(check, p.circuits[0]!.attributes)) continue;
        const is = outcome(p, check, []);
        if (is !== check.outcomes[0]!.id && is !== null)
          out.push(`${check.id} on a sound ${machine}: ${is}, it passes on ${check.outcomes[0]!.id}`);
      }
  for (const [machine, says] of Object.entries((outcomes as Stated)['supply-at-block-idle']!))
    for (const [o, ids] of Object.entries(says.exceptions))
      for (const f of ids.slice(0, 1)) meet('proof-supply-at-rest', machine, f, o);
  for (const [id, says] of Object.entries((families as unknown as { checks: Later }).checks))
    for (const machine of on.keys()) {
      if (!fitsCircuit(k.checks.get(id)!, k.machines.get(machine)!.attributes)) continue;
      meet(id, machine, undefined, says.default);
      for (const [o, ids] of Object.entries(says.on?.[machine] ?? says.exceptions))
        ids.forEach((f, i) => {
          const times = met.get(`${machine} ${f}`) ?? 0;
          if (i > 1 && times >= 2) return;
          met.set(`${machine} ${f}`, times + 1);
          meet(id, machine, f, o);
        });
    }
  return out;
}

/** A check that condemns a fault shows, under that fault, what condemns it: computed where it is read, by its signs where it is seen. */
function confirming(k: Knowledge): string[] {
  const out: string[] = [];
  const on = [...k.machines.values()].map((m) => [m, preparedOn(k, m.id)] as const);
  for (const check of k.checks.values())
    for (const c of check.confirms) {
      const fault = k.faults.get(c.fault)!;
      const { when } = check.outcomes.find((x) => x.id === c.outcome)!;
      const read = Object.keys(when).some((fact) => check.measure?.reads.some((r) => r.fact === fact));
      if (read && fault.effects.length) {
        const both = on.filter(([m]) => fitsCircuit(check, m.attributes) && fitsCircuit(fault, m.attributes));
        const all = both.map(([, p]) => outcome(p, check, [c.fault], lineOf(k, c.fault)));
        if (!all.includes(c.outcome)) out.push(`${check.id} condemns ${c.fault} by ${c.outcome}, it shows ${all}`);
      } else if (!read) {
        const talks = [k, ...Object.keys(fault.signsIn ?? {}).map((f) => wordsOfTalk(k, [f]))];
        // One look may condemn a fault by two sights; then one of them need not be the usual one.
        const twoWays = check.confirms.some((x) => x.fault === c.fault && x.outcome !== c.outcome);
        const enough = (fact: string, w: string | undefined) =>
          w === 'always' || w === 'usual' || (twoWays && (w === 'maybe' || !fault.signs[fact]));
        const seldom = Object.entries(when).filter(
          ([fact, any]) =>
            !talks.some(
              (t) =>
                (twoWays || t.faults.get(c.fault)!.signs[fact]) && any.some((a) => enough(fact, word(t, [c.fault], fact, a))),
            ),
        );
        if (seldom.length) out.push(`${check.id} condemns ${c.fault} by ${c.outcome}, which it seldom shows`);
      }
    }
  return out;
}

interface Situation {
  id: string;
  machine: string;
  state: string;
  hookup?: 'three-wire' | 'four-wire';
  system?: string;
  effects?: Effect[];
  lifts?: string[];
  readings: {
    what: string;
    points?: [string, string];
    branches?: string[];
    lowImpedance?: boolean;
    open?: boolean;
    below?: number;
    expected?: number;
    tolerance?: number;
  }[];
}
/** Worked situations on the three machines: what a meter shows there. */
function worked(k: Knowledge): string[] {
  const out: string[] = [];
  const meter = k.meters.get('meter-4000-count')!;
  for (const s of situations.situations as unknown as Situation[]) {
    const net = solve(
      buildNet(k.supply, k.machines.get(s.machine)!, k.states.get(s.state)!, {
        ...(s.hookup && { hookup: s.hookup }),
        ...(s.system && { system: s.system }),
        ...(s.lifts && { lifts: s.lifts }),
        effects: s.effects ?? [],
      }),
    );
    for (const r of s.readings) {
      const is =
        r.what === 'volts'
          ? net.volts(r.points![0], r.points![1], r.lowImpedance ? meter.lowImpedance_ohm : meter.input_ohm)?.volts
          : r.what === 'ohms'
            ? net.ohms(r.points![0], r.points![1], meter.over_range_ohm)
            : r.branches!.reduce((sum, b) => sum + ((r.what === 'amps' ? net.amps(b) : net.watts(b)) ?? Number.NaN), 0);
      const right = r.open
        ? is === 'open'
        : typeof is === 'number' && (r.below !== undefined ? is < r.below : Math.abs(is - r.expected!) <= r.tolerance!);
      if (!right) out.push(`situation ${s.id}: ${r.what} ${r.points ?? r.branches} ${is}`);
    }
  }
  return out;
}

/** Numbers a printed table or a rule of the trade gives. */
function numbers(k: Knowledge): string[] {
  const out: string[] = [];
  for (const l of limits.limits) {
    const is = k.limits.get(l.id);
    if (!is) continue;
    for (const edge of ['lo', 'hi'] as const) {
      const range = l[edge];
      if (range && (is[edge] < range[0]! || is[edge] > range[1]!))
        out.push(`limit ${l.id}, ${edge}: ${is[edge]}, stated ${range[0]} to ${range[1]} (${l.source})`);
    }
  }
  return out;
}

/** Danger is asked first, then what kind of machine; a state is what its name says; a sound safety part is closed. */
function plain(k: Knowledge): string[] {
  const out: string[] = [];
  for (const m of k.machines.values())
    for (const b of m.branches)
      if (said.closedWhenSound.includes(b.id) && b.closedIn)
        for (const s of k.states.values())
          if (!b.closedIn.includes(s.contactsAs)) out.push(`${b.id} of a sound ${m.id} is open in ${s.contactsAs}`);
  const turning = [...k.states.values()].filter((s) => s.running).map((s) => s.contactsAs);
  const resting = [...k.states.values()].filter((s) => !s.running).map((s) => s.contactsAs);
  for (const m of k.machines.values())
    for (const b of m.branches) {
      const [lo, hi] = (said.ohms as Record<string, number[]>)[b.id] ?? [0, Number.POSITIVE_INFINITY];
      if (b.ohm < lo! || b.ohm > hi!) out.push(`${b.id} of ${m.id} has ${b.ohm} Ω, stated ${lo} to ${hi}`);
      const exactly = said.closedAtRest.includes(b.id) ? resting : said.closedWhileTurning.includes(b.id) ? turning : undefined;
      if (exactly && !same(b.closedIn ?? [], [...new Set(exactly)])) out.push(`${b.id} of ${m.id} is closed in ${b.closedIn}`);
    }
  for (const [branch, all] of Object.entries(said.alsoClosed))
    for (const m of k.machines.values())
      for (const b of m.branches)
        for (const state of b.id === branch ? all : [])
          if (!b.closedIn?.includes(state)) out.push(`${branch} of ${m.id} is open in ${state}`);
  for (const [family, gates] of Object.entries(said.gatesIn))
    for (const g of gates) if (!k.families.get(family)?.gates.includes(g)) out.push(`${family} does not ask ${g}`);
  for (const f of k.families.values()) {
    if (f.gates[0] !== said.gates[0]) out.push(`${f.id} does not begin with ${said.gates[0]}`);
    for (const g of said.gates) if (!f.gates.includes(g)) out.push(`${f.id} does not ask ${g}`);
  }
  for (const s of k.states.values()) {
    if (s.plugged === s.id.startsWith('unplugged')) out.push(`${s.id} plugged: ${s.plugged}`);
    if (s.running !== s.id.startsWith('run')) out.push(`${s.id} running: ${s.running}`);
    if (s.heatCalled !== said.heatCalled.includes(s.id)) out.push(`${s.id} heat called: ${s.heatCalled}`);
  }
  return out;
}

const CIRCUIT = ['machines/', 'supply.json', 'states.json', 'physics-limits.json', 'meters.json'];
/** The quick ones first. */
export const EXPECTATIONS: Expectation[] = [
  { name: 'states and gates', reads: ['families.json', 'states.json', 'machines/'], unmet: plain },
  { name: 'numbers', reads: ['limits.json', 'physics-limits.json'], unmet: numbers },
  {
    name: 'exposure',
    reads: ['checks.json', 'machines/', 'supply.json', 'states.json', 'covers.json', 'needs.json'],
    unmet: exposed,
  },
  { name: 'ends', reads: ['faults.json'], unmet: ends },
  { name: 'signs', reads: ['faults.json', 'facts.json'], unmet: seen },
  { name: 'permits', reads: ['rules/permits.json'], unmet: permits },
  { name: 'needs', reads: ['rules/permits.json', 'facts.json'], unmet: needs },
  { name: 'rules', reads: ['rules/'], unmet: spoken },
  { name: 'stops', reads: ['stops.json', 'facts.json', 'rules/stops.json'], unmet: stops },
  { name: 'situations', reads: CIRCUIT, unmet: worked },
  { name: 'outcomes', reads: [...CIRCUIT, 'checks.json', 'faults.json', 'limits.json'], unmet: shown },
  { name: 'confirming', reads: [...CIRCUIT, 'checks.json', 'faults.json', 'limits.json'], unmet: confirming },
];
