interface Span {
  lo: number;
  hi: number;
}

/** Ω of a heater that makes its rated watts at its rated volts. */
export const hot_ohm = (rated_v: number, rated_w: number): number => rated_v ** 2 / rated_w;

/** Ω hot over the tolerance of the rating: more watts are fewer ohms. @param tolerance  factors on the watts: 0.9 to 1.05 for +5/−10 % */
export const hotBand_ohm = (rated_v: number, rated_w: number, tolerance: Span): Span => ({
  lo: hot_ohm(rated_v, rated_w * tolerance.hi),
  hi: hot_ohm(rated_v, rated_w * tolerance.lo),
});

/** Ω cold from Ω hot. @param factor  hot over cold */
export const cold_ohm = (hot: number, factor: number): number => hot / factor;

/** Ω of a cold coil: rating tolerance and the spread of alloys together. */
export const coldBand_ohm = (rated_v: number, rated_w: number, tolerance: Span, alloyFactor: Span): Span => {
  const hot = hotBand_ohm(rated_v, rated_w, tolerance);
  return { lo: cold_ohm(hot.lo, alloyFactor.hi), hi: cold_ohm(hot.hi, alloyFactor.lo) };
};
