import type { CaseFacts, Circuit, Knowledge } from '../types.ts';
import { latest } from './case.ts';

/** What is known of the machine in hand; everything optional, unknown keeps every variant alive. */
export interface MachineInHand {
  /** Candidate machine ids; more than one = not known which. */
  circuits: string[];
  plate: { volts?: number; total_w?: number; heater_w?: number; amps?: number };
  hookup: 'three-wire' | 'four-wire' | 'unknown';
  meter: string;
  /** Lead resistance the person has measured or nulled, in Ω. */
  leads_ohm?: number;
  /** Id of the building's supply system. */
  system: string;
  /** What was told of temperatures that parts follow: fact -> °C. */
  temperatures?: Record<string, number>;
  /** Variants of its circuit this machine has; and those it may have or not, which keeps both drawings alive. */
  variants?: string[];
  maybe?: string[];
  /** Ids of repairs somebody did before ("already replaced the coil"). */
  repaired?: string[];
}

/**
 * The machine as far as it is known: every circuit the answers leave possible, likeliest first; hook-up; meter; supply.
 * An answer that says nothing keeps all variants alive.
 */
export function machineInHand(k: Knowledge, f: CaseFacts): MachineInHand {
  const told = latest(f.readings);
  const contradicts = (fact: string, is: string): boolean => {
    const r = told.get(fact);
    return r !== undefined && !k.facts.get(fact)?.noEvidence?.includes(String(r.value)) && r.value !== is;
  };
  const fits = (c: Circuit) => !Object.entries(c.knownBy).some(([fact, is]) => contradicts(fact, is));
  const given = f.machine.circuits?.filter((id) => k.machines.has(id)) ?? [];
  let circuits = given.length
    ? given
    : [...k.machines.values()]
        .filter(fits)
        .sort(byPrior)
        .map((c) => c.id);
  if (!circuits.length) circuits = [...k.machines.values()].sort(byPrior).map((c) => c.id);
  let hookup = f.machine.hookup ?? 'unknown';
  if (hookup === 'unknown')
    for (const h of k.supply.hookups)
      if (Object.entries(h.knownBy ?? {}).some(([fact, answers]) => answers.includes(String(told.get(fact)?.value))))
        hookup = h.id;
  const hand: MachineInHand = {
    circuits,
    plate: f.machine.plate ?? {},
    hookup,
    meter: f.machine.meter && k.meters.has(f.machine.meter) ? f.machine.meter : [...k.meters.keys()][0]!,
    system: f.machine.system ?? k.supply.systems[0]!.id,
  };
  const temperatures = temperaturesTold(k, told);
  if (temperatures) hand.temperatures = temperatures;
  if (f.machine.leads_ohm !== undefined) hand.leads_ohm = f.machine.leads_ohm;
  if (f.machine.variants?.length) hand.variants = [...f.machine.variants].sort();
  if (f.machine.maybe?.length) hand.maybe = [...f.machine.maybe].sort();
  return hand;
}

/** Temperatures told of parts that follow one. */
function temperaturesTold(k: Knowledge, told: ReturnType<typeof latest>): Record<string, number> | undefined {
  const facts = new Set([...k.machines.values()].flatMap((m) => m.branches.flatMap((b) => (b.follows ? [b.follows.at] : []))));
  const out: Record<string, number> = {};
  for (const fact of [...facts].sort()) {
    const value = told.get(fact)?.value;
    if (typeof value === 'number') out[fact] = value;
  }
  return Object.keys(out).length ? out : undefined;
}

const byPrior = (a: Circuit, b: Circuit) => b.prior - a.prior || a.id.localeCompare(b.id);
