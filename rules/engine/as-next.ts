import type { Check, NextCheck } from '../types.ts';

/** A check as the next one, where nobody has worked out what each of its outcomes would leave. */
export const asNext = (check: Check, why: NextCheck['why']): NextCheck => ({
  check: check.id,
  why,
  cost_min: check.min,
  outcomes: [],
});
