import { asFact } from '../knowledge/as-fact.ts';
import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Check, Knowledge, MachineInHand, Reading } from '../types.ts';
import { latest } from './case.ts';
import type { Flat } from './run-rules.ts';

export const NO_ANSWER: ReadonlySet<string> = new Set(['unsure', 'declined']);

/** The answers of a choice fact that say nothing. */
export const saysNothing = (k: Knowledge, r: Reading): boolean =>
  k.facts.get(r.fact)?.noEvidence?.includes(String(r.value)) ?? false;

/**
 * The case as flat facts, the only thing a rule `over: case` sees.
 * Every choice told stands under its fact id; "not sure" and "can't" stand as `unsure_<fact>`, and as the danger itself where a stop fact says so.
 * A family stands as `family_x`. Words: audience, gas_cleared, ever_stopped, supply_scale_known are yes/no and always known; reclosings is a count.
 */
export function caseFlat(k: Knowledge, f: CaseFacts, hand: MachineInHand): Flat {
  const flat: Flat = {};
  const told = latest(f.readings);
  for (const [id, r] of told) {
    const fact = k.facts.get(id);
    // A danger that says nothing of its cause (a burning smell of no told kind) is a danger all the same.
    const danger = fact?.danger?.includes(String(r.value)) ?? false;
    if (fact?.kind !== 'choice') flat[id] = r.value;
    else if (!danger && saysNothing(k, r)) flat[`unsure_${id}`] = 'yes';
    else flat[id] = r.value;
  }
  for (const fact of k.facts.values()) {
    if (told.has(fact.id) || !isUnsure(k, f, fact.id)) continue;
    if (fact.unsureIs !== undefined) flat[fact.id] = fact.unsureIs;
    else flat[`unsure_${fact.id}`] = 'yes';
  }
  flat.audience = f.audience;
  flat.reclosings = f.reclosings;
  flat.ever_stopped = f.everStopped.size ? 'yes' : 'no';
  flat.gas_cleared = gasCleared(k, flat) ? 'yes' : 'no';
  flat.supply_scale_known = supplyScale(k, f) === undefined ? 'no' : 'yes';
  flat.circuits_left = hand.circuits.length;
  for (const id of k.families.keys()) flat[asFact('family', id)] = f.families.includes(id) ? 'yes' : 'no';
  for (const c of k.machines.values()) {
    const alike = hand.circuits.map((id) => k.machines.get(id)).filter((m) => m !== undefined);
    for (const attribute of c.attributes) {
      const having = alike.filter((m) => m.attributes.includes(attribute)).length;
      if (having === alike.length) flat[`machine_${attribute.replaceAll('-', '_')}`] = 'yes';
      else if (having === 0) flat[`machine_${attribute.replaceAll('-', '_')}`] = 'no';
    }
  }
  return flat;
}

/** Silence clears nothing. */
const gasCleared = (k: Knowledge, flat: Flat): boolean =>
  [...k.facts.values()].some((fact) => fact.clearsGas?.includes(String(flat[fact.id])));

// "Not sure" may be said to a fact, or to the whole list that asked it.
function isUnsure(k: Knowledge, f: CaseFacts, fact: string): boolean {
  const direct = f.asked.get(fact);
  if (direct) return NO_ANSWER.has(direct);
  for (const [id, why] of f.asked) if (NO_ANSWER.has(why) && k.checks.get(id)?.settles.includes(fact)) return true;
  return false;
}

/** The measured leg volts of this case over the nominal leg, from a reading at rest; undefined while none lies in the usual range. */
export function supplyScale(k: Knowledge, f: CaseFacts): number | undefined {
  const range = limit(k, 'idle-leg-for-scaling');
  const scalers = scalingFacts(k);
  const volts = f.readings
    .filter((r) => scalers.has(r.fact) && typeof r.value === 'number' && r.value >= range.lo && r.value <= range.hi)
    .at(-1);
  return volts ? Math.round(((volts.value as number) / limit(k, 'nominal-leg').lo) * 1e4) / 1e4 : undefined;
}
const scaling = new WeakMap<Knowledge, Set<string>>();
/** Facts that read the motor's leg against neutral with nothing running: what loaded volts are judged against. */
function scalingFacts(k: Knowledge): Set<string> {
  const had = scaling.get(k);
  if (had) return had;
  const pairs = new Set(k.supply.scalePairs.map((p) => p.join()));
  const out = new Set<string>();
  for (const c of k.checks.values())
    if (c.measure?.what === 'volts' && !k.states.get(c.state)?.running)
      for (const r of c.measure.reads) if (Object.values(r.points).some((p) => pairs.has(p.join()))) out.add(r.fact);
  scaling.set(k, out);
  return out;
}

/** Has every fact of a check an answer, or a refusal? `later` counts as asked only until something else can be done. */
export function checkStanding(_k: Knowledge, f: CaseFacts, c: Check): 'done' | 'refused' | 'later' | 'open' {
  const told = latest(f.readings);
  const asked = f.asked.get(c.id);
  const pieces = c.settles.map((id) => (told.has(id) ? 'done' : (f.asked.get(id) ?? 'open')));
  if (c.settles.length && pieces.every((p) => p === 'done')) return 'done';
  if (asked === 'later' || pieces.includes('later')) return 'later';
  if (asked || pieces.some((p) => p === 'unsure' || p === 'declined')) return 'refused';
  return 'open';
}
