import type { Meter } from '../types.ts';

interface Accuracy {
  percent: number;
  counts: number;
  resolution: number;
}

/** Half the width of what a meter may show for a true value: ±(percent of reading + counts × resolution). */
export const slack = (value: number, { percent, counts, resolution }: Accuracy): number =>
  (Math.abs(value) * percent) / 100 + counts * resolution;

/** The accuracy line of the range an auto-ranging meter picks; undefined = over every range. */
export const ohmsLine = (meter: Meter, ohm: number): Accuracy | undefined => meter.ohms.find((range) => ohm <= range.upTo);

/** True where a high-impedance meter proves nothing: the point is held by insulation and coupling, not by a conductor. */
export const floats = (source_ohm: number, least_ohm: number): boolean => source_ohm >= least_ohm;

/**
 * What a meter may show at a point that floats: anything from nothing to what stray coupling to a live wire can hold up against its input.
 * On a low-impedance input that is next to nothing, which is why the reading is repeated there.
 * @param line_v  the most that may stand between the other lead and a live wire: leg to leg
 * @param coupling_ohm  of the capacitance between the wires, at line frequency
 */
export const floatingBand_v = (line_v: number, coupling_ohm: number, input_ohm: number): { lo: number; hi: number } => ({
  lo: 0,
  hi: (line_v * input_ohm) / Math.sqrt(input_ohm * input_ohm + coupling_ohm * coupling_ohm),
});
