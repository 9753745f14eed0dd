import { mustBeOn } from '../knowledge/must-be-on.ts';
import type { CaseFacts, Check, Knowledge } from '../types.ts';

const shut = new WeakMap<Knowledge['covers'], WeakMap<Check, string[]>>();
/** Covers that must be on while a check is done. */
export function shutFor({ covers }: Knowledge, check: Check): string[] {
  let known = shut.get(covers);
  if (!known) {
    known = new WeakMap();
    shut.set(covers, known);
  }
  let ids = known.get(check);
  if (!ids) {
    ids = [...covers.values()].filter((c) => mustBeOn(c, check)).map((c) => c.id);
    known.set(check, ids);
  }
  return ids;
}

/** What has to go back on before this check: covers that are off and must not be. */
export const putBack = (k: Knowledge, f: CaseFacts, check: Check): string[] =>
  shutFor(k, check).filter((c) => f.coversOpen.has(c));
