import type { Meaning } from '../types.ts';
import { type Context, denied, evidence, groupHits, inside, overlaps } from './context.ts';
import type { HazardsFound } from './hazards.ts';
import type { Entry, Hit } from './lexicon.ts';

export interface Told {
  families: Map<string, Hit>;
  facts: Map<string, { value: string; hit: Hit }>;
}

/** Complaints and the facts told with them. What was denied, taken back or meant as an idiom is not among them. */
export function findTold(c: Context, hazards: HazardsFound): Told {
  const stands: { hit: Hit; entry: Entry }[] = [];
  for (const hit of c.hits) {
    if (hit.of.kind !== 'family' && hit.of.kind !== 'fact') continue;
    if (
      hit.to <= c.retractedTo ||
      (denied(c, hit) && !deniedBefore(c, hit)) ||
      isPast(c, hit) ||
      groupHits(c, 'idioms').some((h) => inside(hit, h))
    )
      continue;
    if (hazards.denied.some((h) => inside(hit, h))) continue;
    stands.push({ hit, entry: hit.of.entry });
  }
  for (const hit of hazards.stood) if (hit.of.kind === 'hazard') stands.push({ hit, entry: hit.of.entry });
  stands.sort((a, b) => a.hit.from - b.hit.from || b.hit.to - a.hit.to);
  const gone = (name: string, hit: Hit, entry: Entry): boolean =>
    stands.some(
      (s) =>
        s.entry !== entry &&
        (s.entry.drops ?? []).some((d) => d.replace('?', '') === name && (!d.endsWith('?') || overlaps(s.hit, hit))),
    );
  const told: Told = { families: new Map(), facts: new Map() };
  for (const { hit, entry } of stands) {
    if (entry.family && !told.families.has(entry.family) && !gone(entry.family, hit, entry)) told.families.set(entry.family, hit);
    for (const [fact, value] of Object.entries(entry.facts ?? {}))
      if (!told.facts.has(fact) && !gone(fact, hit, entry) && !gone(`${fact}=${value}`, hit, entry))
        told.facts.set(fact, { value, hit });
  }
  for (const [fact, value, at] of loneWords(c))
    if (!told.facts.has(fact)) told.facts.set(fact, { value, hit: { of: { kind: 'group', name: 'lone' }, says: '', ...at } });
  return told;
}

/** "No burning smell no smoke just cold": the no belongs to the danger that stands between, unless the two are listed. */
function deniedBefore(c: Context, hit: Hit): boolean {
  const { negators, listWords } = c.lexicon.data.lists;
  return c.hits.some(
    (h) =>
      h.of.kind === 'hazard' &&
      h.to === hit.from &&
      negators.includes(c.tokens[h.from - 1]?.text ?? '') &&
      !listWords.includes(c.tokens[hit.from]?.text ?? ''),
  );
}

/** "It used to squeal": over, as far as a noise or a trip goes; what it used to do well is another matter. */
const isPast = (c: Context, hit: Hit): boolean =>
  hit.of.kind === 'family' && groupHits(c, 'pastOnly').some((h) => h.to === hit.from && c.tokens.length > hit.to);

/** Words that stand alone between commas; alone in all that was said they answer nothing we know of. */
function loneWords(c: Context): [fact: string, value: string, at: { from: number; to: number }][] {
  if (c.tokens.length < 3) return [];
  return c.tokens.flatMap((t, i) => {
    const means = Object.hasOwn(c.lexicon.data.lone, t.text) ? c.lexicon.data.lone[t.text] : undefined;
    const [before, after] = [c.tokens[i - 1], c.tokens[i + 1]];
    const parted = (m: typeof t | undefined) => m === undefined || (m.kind === 'mark' && [',', ';', '.', '/'].includes(m.text));
    return means?.[0] && means[1] && parted(before) && parted(after) ? [[means[0], means[1], { from: i, to: i + 1 }]] : [];
  });
}

export function toldMeanings(c: Context, told: Told): Meaning[] {
  const out: Meaning[] = [];
  for (const [family, hit] of told.families) out.push({ is: 'complaint', family, evidence: evidence(c, hit) });
  for (const [fact, { value, hit }] of told.facts)
    out.push({ is: c.lexicon.noted.has(fact) ? 'noted' : 'answer', fact, value, evidence: evidence(c, hit) });
  return out;
}
