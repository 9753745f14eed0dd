import type { Prepared } from '../types.ts';
import { fitsCircuit } from './fits.ts';
import { keptFor } from './kept.ts';

/** A fault, or several at once, as a candidate cause of the complaint. */
export interface Candidate {
  readonly faults: string[];
  readonly weight: number;
}

const listed = keptFor<Prepared, readonly Candidate[]>();
/** Every fault that may be behind the complaint on a machine that may be this one, with its weight over those machines. */
export const candidates = (p: Prepared, families: readonly string[]): readonly Candidate[] =>
  listed(p, families.join('+'), () => list(p, families));

function list(p: Prepared, families: readonly string[]): Candidate[] {
  const priors = p.circuits.reduce((sum, c) => sum + c.prior, 0);
  const out: Candidate[] = [];
  for (const f of p.knowledge.faults.values()) {
    let weight = 0;
    for (const c of p.circuits) {
      if (!fitsCircuit(f, c.attributes)) continue;
      for (const family of families) weight += ((f.weight[family]?.[c.id] ?? f.weight[family]?.['*'] ?? 0) * c.prior) / priors;
    }
    if (weight > 0) out.push({ faults: [f.id], weight: Math.round(weight * 1e6) / 1e6 });
  }
  return out;
}

const paired = keptFor<Prepared, readonly Candidate[]>();
/** A part with each cause behind it that this machine can have: weight × share(cause | part). */
export const pairs = (p: Prepared, families: readonly string[]): readonly Candidate[] =>
  paired(p, families.join('+'), () => pair(p, families));

function pair(p: Prepared, families: readonly string[]): Candidate[] {
  const k = p.knowledge;
  const out = new Map<string, Candidate>();
  for (const c of candidates(p, families))
    for (const { fault, share } of k.faults.get(c.faults[0]!)!.causes) {
      const cause = k.faults.get(fault);
      if (!cause || !p.circuits.some((m) => fitsCircuit(cause, m.attributes))) continue;
      const faults = [c.faults[0]!, fault];
      const name = [...faults].sort().join('+');
      const had = out.get(name);
      out.set(name, had ? { ...had, weight: had.weight + c.weight * share } : { faults, weight: c.weight * share });
    }
  return [...out.values()];
}
