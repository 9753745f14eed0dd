const ZERO_C_K = 273.15;

/** Rows of °C and Ω, rising in °C (so falling in Ω for an NTC). */
export type Table = readonly (readonly [temperature_c: number, ohm: number])[];

// Between two rows ln R runs almost straight over 1/T.
const between = (at: number, from: number, to: number, low: number, high: number): number =>
  low + ((high - low) * (at - from)) / (to - from);
const perKelvin = (temperature_c: number): number => 1 / (temperature_c + ZERO_C_K);

/** Ω at a temperature; undefined outside the rows: nothing is known there. */
export function byTable_ohm(table: Table, temperature_c: number): number | undefined {
  const next = table.findIndex(([t]) => t >= temperature_c);
  if (next < 0) return undefined;
  const [t1, r1] = table[next]!;
  if (t1 === temperature_c) return r1;
  if (next === 0) return undefined;
  const [t0, r0] = table[next - 1]!;
  return Math.exp(between(perKelvin(temperature_c), perKelvin(t0), perKelvin(t1), Math.log(r0), Math.log(r1)));
}
/** °C of a reading in Ω; undefined outside the rows. */
export function byTable_c(table: Table, ohm: number): number | undefined {
  const next = table.findIndex(([, r]) => r <= ohm);
  if (next < 0) return undefined;
  const [t1, r1] = table[next]!;
  if (r1 === ohm) return t1;
  if (next === 0) return undefined;
  const [t0, r0] = table[next - 1]!;
  return 1 / between(Math.log(ohm), Math.log(r0), Math.log(r1), perKelvin(t0), perKelvin(t1)) - ZERO_C_K;
}
