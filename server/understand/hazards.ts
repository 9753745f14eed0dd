import type { Meaning } from '../types.ts';
import { type Context, evidence, standingOf } from './context.ts';
import kinds from './lexicon/kinds.json' with { type: 'json' };
import type { Hit } from './lexicon.ts';

type Hazard = Extract<Meaning, { is: 'hazard' }>;
export interface HazardsFound {
  hazards: Hazard[];
  /** The phrases that stood, and those that were denied or no danger at all. */
  stood: Hit[];
  denied: Hit[];
}

/** "A burning smell" says less than which one. */
const weak = (fact: string, value: string): boolean => (kinds.leastSaid as Record<string, string>)[fact] === value;

/**
 * Dangers anywhere in what was said, whatever was asked. One per fact, the surest first told.
 * Something seen earlier is `earlier` where the fact has that choice.
 */
export function findHazards(c: Context): HazardsFound {
  const stood: Hit[] = [];
  const out: HazardsFound = { hazards: [], stood, denied: [] };
  const seen = new Map<string, Hazard>();
  const longestFirst = c.hits
    .filter((h) => h.of.kind === 'hazard')
    .sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from);
  for (const hit of longestFirst) {
    if (hit.of.kind !== 'hazard') continue;
    const entry = hit.of.entry;
    const standing = standingOf(c, hit);
    if (standing === 'denied' || standing === 'aside') {
      out.denied.push(hit);
      continue;
    }
    stood.push(hit);
    for (const [fact, told] of Object.entries({ ...entry.hazard, ...entry.also })) {
      const value = fact === 'flame_or_smoke' && standing === 'earlier' ? 'earlier' : told;
      const hazard: Hazard = { is: 'hazard', fact, value, sure: standing !== 'hedged', evidence: evidence(c, hit) };
      const before = seen.get(fact);
      // a danger now outranks one that is over; a named one outranks one that only says there is one
      if (!before || (before.value === 'earlier' && value === 'now') || (weak(fact, before.value) && !weak(fact, value)))
        seen.set(fact, hazard);
      else if (before.value === value && hazard.sure) before.sure = true;
    }
  }
  for (const hit of stood)
    if (hit.of.kind === 'hazard')
      for (const drop of hit.of.entry.drops ?? []) {
        const [fact = '', value] = drop.split('=');
        if (value !== undefined && seen.get(fact)?.value === value && !hit.of.entry.hazard?.[fact]?.startsWith(value))
          seen.delete(fact);
      }
  out.hazards = [...seen.values()].sort((a, b) => Number(b.sure) - Number(a.sure));
  return out;
}
