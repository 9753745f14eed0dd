/** Two resistances side by side: what is read in circuit when nothing was lifted. */
export const sideBySide_ohm = (a_ohm: number | 'open', b_ohm: number | 'open'): number | 'open' => {
  if (a_ohm === 'open') return b_ohm;
  if (b_ohm === 'open') return a_ohm;
  return a_ohm + b_ohm === 0 ? 0 : (a_ohm * b_ohm) / (a_ohm + b_ohm);
};

/** The part alone, from what is read with a known path beside it. 'open' = all of the reading is the other path. */
export const alone_ohm = (read_ohm: number, beside_ohm: number): number | 'open' =>
  read_ohm >= beside_ohm ? 'open' : (read_ohm * beside_ohm) / (beside_ohm - read_ohm);

/** A metal's resistance at another temperature. `per_k` holds at `from_c`. */
export const atTemperature_ohm = (ohm: number, per_k: number, from_c: number, to_c: number): number =>
  ohm * (1 + per_k * (to_c - from_c));

/** Volts across the lower of two resistances in series. */
export const divided_v = (volts: number, upper_ohm: number, lower_ohm: number): number =>
  (volts * lower_ohm) / (upper_ohm + lower_ohm);
