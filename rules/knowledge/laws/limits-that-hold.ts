import type { Limit } from '../limit.ts';
import { NEEDED_LIMITS } from '../needed-limits.ts';
import { LIKELY } from '../words.ts';
import type { Law } from './law.ts';

/** Every limit the code reads is there, once, and no range or order is upside down. */
export const limitsThatHold: Law = (shelf) => {
  const out: string[] = [];
  const { named, beside } = shelf.loaded;
  for (const id of NEEDED_LIMITS)
    if (!shelf.names('limit').has(id)) out.push(`limits.json, limit "${id}": is missing; the engine reads it`);
  for (const file of ['limits.json', 'physics-limits.json'])
    for (const { id, lo, hi } of shelf.list<Limit>(file))
      if (lo > hi) out.push(`${file}, limit "${id}", lo: ${lo} is above hi ${hi}`);
  for (const id of named['physics-limits.json'] ?? [])
    if (named['limits.json']?.has(id)) out.push(`physics-limits.json, limit "${id}": stands in limits.json too`);
  const likely = beside.likely as Record<string, number> | undefined;
  if (likely)
    LIKELY.slice(1).forEach((word, i) => {
      const likelier = LIKELY[i]!;
      if (likely[word]! >= likely[likelier]!)
        out.push(`limits.json, likely: "${word}" (${likely[word]}) should be less than "${likelier}" (${likely[likelier]})`);
    });
  return out;
};
