import type { Knowledge } from '../types.ts';

/** A limit the engine itself stands on; its absence is a fault of the knowledge, not of the case. */
export function limit(k: Knowledge, id: string): { lo: number; hi: number } {
  const l = k.limits.get(id);
  if (!l) throw new RangeError(`the knowledge has no limit "${id}"`);
  return l;
}
