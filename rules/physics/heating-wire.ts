interface Span {
  lo: number;
  hi: number;
}

/** Watts of the heater alone from the total on the plate; `lo` and `hi` from what motor and controls may take. */
export const heaterShare_w = (total_w: number, motor_w: Span): Span => ({ lo: total_w - motor_w.hi, hi: total_w - motor_w.lo });

/** Ω of a heater that makes its rated watts at its rated volts. */
export const hot_ohm = (rated_v: number, rated_w: number): number => rated_v ** 2 / rated_w;

/** Watts at other volts than rated: with the square of the volts. */
export const heat_w = (volts: number, rated_v: number, rated_w: number): number => rated_w * (volts / rated_v) ** 2;

/** Amps of a heater of rated volts and watts. */
export const rated_a = (rated_v: number, rated_w: number): number => rated_w / rated_v;

/** Watts a heater so rated may take. @param tolerance  factors on the rating: 0.9 to 1.05 for +5/−10 % */
export const ratedBand_w = (rated_w: number, tolerance: Span): Span => ({
  lo: rated_w * tolerance.lo,
  hi: rated_w * tolerance.hi,
});

/** Ω hot over the tolerance of the rating: more watts are fewer ohms. */
export const hotBand_ohm = (rated_v: number, rated_w: Span | number, tolerance: Span): Span => {
  const watts = typeof rated_w === 'number' ? { lo: rated_w, hi: rated_w } : rated_w;
  return { lo: hot_ohm(rated_v, watts.hi * tolerance.hi), hi: hot_ohm(rated_v, watts.lo * tolerance.lo) };
};

/** Ω cold from Ω hot. @param factor  hot over cold */
export const cold_ohm = (hot: number, factor: number): number => hot / factor;

/** Ω an ohmmeter may find on a cold coil, before its own error: rating tolerance and the spread of alloys together. */
export const coldBand_ohm = (rated_v: number, rated_w: Span | number, tolerance: Span, alloyFactor: Span): Span => {
  const hot = hotBand_ohm(rated_v, rated_w, tolerance);
  return { lo: cold_ohm(hot.lo, alloyFactor.hi), hi: cold_ohm(hot.hi, alloyFactor.lo) };
};

/** Hot over cold resistance of an alloy, between the rows of its table in a straight line; held at the ends. Rows rise in °C. */
export function alloyFactorAt(factors: readonly (readonly [number, number])[], temperature_c: number): number {
  const next = factors.findIndex(([t]) => t >= temperature_c);
  if (next <= 0) return (next === 0 ? factors[0] : factors.at(-1))![1];
  const [t0, f0] = factors[next - 1]!;
  const [t1, f1] = factors[next]!;
  return f0 + ((f1 - f0) * (temperature_c - t0)) / (t1 - t0);
}
