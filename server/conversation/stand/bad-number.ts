import type { Fact, Knowledge, Unit, Value } from '../../../rules/types.ts';
import { shownNumber } from '../words/numbers.ts';
import type { Wrong } from './plate.ts';

/** An upper end no meter reaches: what lies there is over range. */
const NO_END_OHM = 1e9;

/** What is wrong with a measured value, or nothing. OL is a value of ohms alone: over range of volts and amps says nothing. */
export function badNumber(k: Knowledge, fact: Fact, value: Value, unit?: Unit, state?: string): Wrong | undefined {
  const own = fact.unit ?? '1';
  if (unit !== undefined && unit !== own) return { code: 'wrong-unit', put: { unit, own } };
  if (value === 'open') return own === 'Ω' ? undefined : { code: 'not-a-number', put: { value: 'OL', unit: own } };
  if (typeof value === 'string' && own === 'Ω') return { code: 'not-ohms', put: { value } };
  if (typeof value !== 'number' || !Number.isFinite(value))
    return { code: 'not-a-number', put: { value: String(value), unit: own } };
  if (outOfReach(fact, value)) return { code: 'not-possible', put: reach(fact, value) };
  if (own === 'Ω' && state !== undefined && k.states.get(state)?.plugged) return { code: 'ohms-live', put: {} };
  return undefined;
}

const EVERYWHERE = { lo: Number.NEGATIVE_INFINITY, hi: Number.POSITIVE_INFINITY };
function outOfReach({ possible: { lo, hi } = EVERYWHERE }: Fact, value: number): boolean {
  return value < lo || value > hi;
}

function reach({ unit = '1', possible: { lo, hi } = EVERYWHERE }: Fact, value: number): Wrong['put'] {
  return {
    value: shownNumber(value, unit, 'metric'),
    lo: shownNumber(lo, unit, 'metric'),
    hi: unit === 'Ω' && hi >= NO_END_OHM ? 'OL' : shownNumber(hi, unit, 'metric'),
  };
}
