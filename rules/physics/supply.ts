import { divided_v } from './resistance.ts';

interface Span {
  lo: number;
  hi: number;
}
export const within = (value: number, { lo, hi }: Span): boolean => value >= lo && value <= hi;

/** A nominal value with a tolerance in percent (−10 -> nine tenths). */
export const byPercent = (nominal: number, percent: number): number => nominal * (1 + percent / 100);
/** One value as percent of another. */
export const percentOf = (value: number, whole: number): number => (100 * value) / whole;

/** Volts between two legs of equal or unequal volts to neutral, that stand `degrees` apart: 180 on a center tap, 120 on a wye. */
export const betweenLegs_v = (first_v: number, second_v: number, degrees: number): number =>
  Math.sqrt(first_v ** 2 + second_v ** 2 - 2 * first_v * second_v * Math.cos((degrees * Math.PI) / 180));

/** Volts between the legs over the mean leg: 2.00 on a center tap, 1.73 on a wye. It tells 208 V of a wye from a sagging 240 V. */
export const legRatio = (between_v: number, first_v: number, second_v: number): number => between_v / ((first_v + second_v) / 2);

/** @param split,wye  bands of the ratio. 'neither': one leg twice, or a misread. A lost leg or neutral keeps the ratio of a center tap: look at the legs first. */
export const kindOfSupply = (ratio: number, split: Span, wye: Span): 'split' | 'wye' | 'neither' =>
  within(ratio, split) ? 'split' : within(ratio, wye) ? 'wye' : 'neither';

/** Ω of all that lies upstream of the points, from the volts there idle and loaded. */
export const source_ohm = (idle_v: number, loaded_v: number, amps: number): number => (idle_v - loaded_v) / amps;

/** The leg that falls by more than `least_v` beyond the other as the heater comes on. */
export function saggingLeg(
  idle_v: readonly [number, number],
  loaded_v: readonly [number, number],
  least_v: number,
): 'first' | 'second' | 'neither' {
  const difference = legSag_v(idle_v, loaded_v);
  return difference > least_v ? 'first' : difference < -least_v ? 'second' : 'neither';
}
/** By how much more the first leg falls than the second. */
export const legSag_v = (idle_v: readonly [number, number], loaded_v: readonly [number, number]): number =>
  idle_v[0] - loaded_v[0] - (idle_v[1] - loaded_v[1]);

/** Open neutral upstream: the loads of the two legs stand in series across the full volts. */
export const openNeutral = (
  between_v: number,
  first_ohm: number,
  second_ohm: number,
): { first_v: number; second_v: number; amps: number } => ({
  first_v: divided_v(between_v, second_ohm, first_ohm),
  second_v: divided_v(between_v, first_ohm, second_ohm),
  amps: between_v / (first_ohm + second_ohm),
});

/** Volts to neutral on a dead leg that is fed back through the heater into whatever else hangs on that leg. */
export const fedBack_v = (leg_v: number, heater_ohm: number, load_ohm: number): number => divided_v(leg_v, heater_ohm, load_ohm);
