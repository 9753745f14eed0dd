import type { Meaning } from '../types.ts';
import { type Context, denied, evidence, inside, standingOf } from './context.ts';
import kinds from './lexicon/kinds.json' with { type: 'json' };
import type { Hit } from './lexicon.ts';

type Hazard = Extract<Meaning, { is: 'hazard' }>;
type Denied = Extract<Meaning, { is: 'denied' }>;
type Suspected = Extract<Meaning, { is: 'suspected' }>;
export interface HazardsFound {
  hazards: Hazard[];
  /** The phrases that stood, and those that were denied or no danger at all. */
  stood: Hit[];
  denied: Hit[];
  /** What was said not to be there. */
  not: Denied[];
  /** What may be there: each is worth one short question. */
  suspected: Suspected[];
}

/** "A burning smell" says less than which one. */
const weak = (fact: string, value: string): boolean => (kinds.leastSaid as Record<string, string>)[fact] === value;

/**
 * Dangers anywhere in what was said, whatever was asked. One per fact, the surest first told.
 * Something seen earlier is `earlier` where the fact has that choice.
 */
export function findHazards(c: Context): HazardsFound {
  const stood: Hit[] = [];
  const out: HazardsFound = { hazards: [], stood, denied: [], not: [], suspected: [] };
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
      if (standing === 'denied')
        for (const [fact, value] of Object.entries(entry.hazard ?? {}))
          out.not.push({ is: 'denied', fact, value, sure: true, evidence: evidence(c, hit) });
      continue;
    }
    if (standing === 'asked') {
      out.denied.push(hit);
      for (const fact of Object.keys(entry.hazard ?? {}))
        out.suspected.push({ is: 'suspected', fact, evidence: evidence(c, hit) });
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
  out.not = [...out.not, ...namesDenied(c, out)].filter(
    (n, i, all) => !seen.has(n.fact) && all.findIndex((o) => o.fact === n.fact) === i,
  );
  return out;
}

/** "It was not gas": the bare name of a danger, denied. */
function namesDenied(c: Context, found: HazardsFound): Denied[] {
  return c.tokens.flatMap((t, i): Denied[] => {
    const means = Object.hasOwn(c.lexicon.data.dangerNames, t.text) ? c.lexicon.data.dangerNames[t.text] : undefined;
    const at = { from: i, to: i + 1 };
    if (!means || !denied(c, at) || found.denied.some((h) => inside(at, h)) || found.stood.some((h) => inside(at, h))) return [];
    return Object.entries(means).map(([fact, value]) => ({ is: 'denied', fact, value, sure: false, evidence: evidence(c, at) }));
  });
}
