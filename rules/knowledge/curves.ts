import thermistors from './thermistors.json' with { type: 'json' };

/** Resistance by temperature of one kind of sensor, rising in °C. */
export interface ThermistorCurve {
  id: string;
  r25_ohm: number;
  beta_k: number;
  rows: readonly (readonly [temperature_c: number, ohm: number])[];
  source: string;
  basis: string;
}
const curves = thermistors.curves as unknown as ThermistorCurve[];
const readBy: Record<string, string[]> = thermistors.readBy;

/** The curves a reading of this fact may lie on; none where no such sensor is read. */
export const thermistorCurves = (fact: string): ThermistorCurve[] => curves.filter((c) => readBy[fact]?.includes(c.id));

export const curveIds = (): string[] => curves.map((c) => c.id);
export const curveOf = (id: string): ThermistorCurve | undefined => curves.find((c) => c.id === id);
