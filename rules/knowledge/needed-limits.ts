import type { Knowledge } from './knowledge.ts';
import type { Limit } from './limit.ts';

/**
 * Limits the code itself reads. The load refuses a knowledge without one of them, so none ever falls back to a number that has
 * no source. A limit not named here does not compile where it is read; one that nothing reads any more fails a test.
 */
export const NEEDED_LIMITS = [
  'alloy-factor',
  'alloy-factor-nominal',
  'close-call',
  'fault-ohm-spread',
  'floating-source',
  'idle-leg-for-scaling',
  'leads-told',
  'least-change',
  'least-gain',
  'least-line',
  'least-telling',
  'leg-risen',
  'legs-sum',
  'levels-told',
  'look-again',
  'lowest-trade-share',
  'most-rounds',
  'motor-least-volts',
  'motor-share-of-plate',
  'nominal-leg',
  'nominal-supply-leg',
  'not-listed-weight',
  'odd-share',
  'ohm-case-clear',
  'parts-share',
  'rating-tolerance',
  'renewed-factor',
  'rival-share',
  'sensor-doubt',
  'sensor-printed',
  'sensor-rooms',
  'sensor-tolerance',
  'service-leg-a',
  'slip-rate',
  'stray-coupling',
  'supply-fluctuation',
  'turn-minutes',
  'two-points-margin',
  'v-contact-closed',
  'v-contact-resistive',
  'v-dead',
  'v-full',
  'v-full-measured',
  'v-legs-apart',
  'visit-minutes',
] as const;
export type NeededLimit = (typeof NEEDED_LIMITS)[number];

/** A limit the code stands on. @throws RangeError where the knowledge has none of that name, which the load refuses */
export function limit(k: Pick<Knowledge, 'limits'>, id: NeededLimit): Limit {
  const found = k.limits.get(id);
  if (!found) throw new RangeError(`the knowledge has no limit "${id}"`);
  return found;
}
