const ZERO_C_K = 273.15;
const ROOM_K = ZERO_C_K + 25;

/** Rows of °C and Ω, rising in °C (so falling in Ω for an NTC). */
export type Table = readonly (readonly [temperature_c: number, ohm: number])[];

export const byBeta_ohm = (r25_ohm: number, beta_k: number, temperature_c: number): number =>
  r25_ohm * Math.exp(beta_k * (1 / (temperature_c + ZERO_C_K) - 1 / ROOM_K));
export const byBeta_c = (r25_ohm: number, beta_k: number, ohm: number): number =>
  1 / (1 / ROOM_K + Math.log(ohm / r25_ohm) / beta_k) - ZERO_C_K;

/** Beta between two points of a curve; it depends on the pair. */
export const beta_k = (first_c: number, first_ohm: number, second_c: number, second_ohm: number): number =>
  Math.log(first_ohm / second_ohm) / (1 / (first_c + ZERO_C_K) - 1 / (second_c + ZERO_C_K));

export const bySteinhartHart_c = ([a, b, c]: readonly [number, number, number], ohm: number): number => {
  const l = Math.log(ohm);
  return 1 / (a + b * l + c * l ** 3) - ZERO_C_K;
};
/** The same curve the other way round: the one real root of its cubic. */
export function bySteinhartHart_ohm([a, b, c]: readonly [number, number, number], temperature_c: number): number {
  const x = (a - 1 / (temperature_c + ZERO_C_K)) / c;
  const y = Math.sqrt((b / (3 * c)) ** 3 + (x / 2) ** 2);
  return Math.exp(Math.cbrt(y - x / 2) - Math.cbrt(y + x / 2));
}

// Between two rows ln R runs almost straight over 1/T.
const between = (at: number, from: number, to: number, low: number, high: number): number =>
  low + ((high - low) * (at - from)) / (to - from);
const perKelvin = (temperature_c: number): number => 1 / (temperature_c + ZERO_C_K);

/** Undefined outside the rows: nothing is known there. */
export function byTable_ohm(table: Table, temperature_c: number): number | undefined {
  const next = table.findIndex(([t]) => t >= temperature_c);
  if (next < 0) return undefined;
  const [t1, r1] = table[next]!;
  if (t1 === temperature_c) return r1;
  if (next === 0) return undefined;
  const [t0, r0] = table[next - 1]!;
  return Math.exp(between(perKelvin(temperature_c), perKelvin(t0), perKelvin(t1), Math.log(r0), Math.log(r1)));
}
/** Undefined outside the rows. */
export function byTable_c(table: Table, ohm: number): number | undefined {
  const next = table.findIndex(([, r]) => r <= ohm);
  if (next < 0) return undefined;
  const [t1, r1] = table[next]!;
  if (r1 === ohm) return t1;
  if (next === 0) return undefined;
  const [t0, r0] = table[next - 1]!;
  return 1 / between(Math.log(ohm), Math.log(r0), Math.log(r1), perKelvin(t0), perKelvin(t1)) - ZERO_C_K;
}

/** From one row to a temperature nearby, by the temperature coefficient of that row in % per K. */
export const nearRow_ohm = (row_c: number, row_ohm: number, percent_per_k: number, temperature_c: number): number =>
  row_ohm * Math.exp((percent_per_k / 100) * (row_c + ZERO_C_K) ** 2 * (perKelvin(temperature_c) - perKelvin(row_c)));

/** A curve printed as R/R25, for a part of another R25. */
export const scaled_ohm = (ratio: number, r25_ohm: number): number => ratio * r25_ohm;
