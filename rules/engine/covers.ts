import { mustBeOn } from '../knowledge/must-be-on.ts';
import type { CaseFacts, Check, Knowledge } from '../types.ts';

/** Covers that must be on while a check is done. */
export const shutFor = (k: Knowledge, check: Check): string[] =>
  [...k.covers.values()].flatMap((c) => (mustBeOn(c, check) ? c.id : []));

/** What has to go back on before this check: covers that are off and must not be. */
export const putBack = (k: Knowledge, f: CaseFacts, check: Check): string[] =>
  shutFor(k, check).filter((c) => f.coversOpen.has(c));
