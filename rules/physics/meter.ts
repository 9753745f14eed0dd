import type { Meter } from '../types.ts';

/** A closed range in the unit of the reading; `open` = over range (OL) may be shown as well. */
export interface Shown {
  lo: number;
  hi: number;
  open: boolean;
}
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

/** What the meter may show for true volts or amps. Volts and amps have no sign here, so nothing below 0. */
export function shownFor(value: number, line: Accuracy): Shown {
  const by = slack(value, line);
  return { lo: Math.max(0, value - by), hi: value + by, open: false };
}

/**
 * What the meter may show for a true resistance ('open' = none at all), leads included.
 * @param leads_ohm  of the leads in hand; { lo: 0, hi: 0 } once they are nulled
 */
export function shownOhms(ohm: number | 'open', meter: Meter, leads_ohm: { lo: number; hi: number } = meter.leads_ohm): Shown {
  const never = { lo: Number.POSITIVE_INFINITY, hi: Number.NEGATIVE_INFINITY, open: true };
  if (ohm === 'open') return never;
  const least = ohm + leads_ohm.lo;
  const most = ohm + leads_ohm.hi;
  const line = ohmsLine(meter, least);
  if (!line) return never;
  const lo = Math.max(0, least - slack(least, line));
  const hi = most + slack(most, ohmsLine(meter, most) ?? line);
  return { lo, hi: Math.min(hi, meter.over_range_ohm), open: hi > meter.over_range_ohm };
}

/** A reading less the resistance of the leads. */
export const withoutLeads_ohm = (read_ohm: number, leads_ohm: number): number => Math.max(0, read_ohm - leads_ohm);

/** The continuity buzzer sounds: says no more than "less than the threshold". */
export const buzzes = (ohm: number | 'open', meter: Meter): boolean => ohm !== 'open' && ohm < meter.buzzer_ohm;

/** True where a high-impedance meter proves nothing: the point is held by insulation and coupling, not by a conductor. */
export const floats = (source_ohm: number, least_ohm: number): boolean => source_ohm >= least_ohm;

/**
 * What a meter may show at a point that floats: anything from nothing to what stray coupling to a live wire can hold up against its input.
 * On a low-impedance input that is next to nothing, which is why the reading is repeated there.
 * @param line_v  the most that may stand between the other lead and a live wire: leg to leg
 */
export const floatingBand_v = (line_v: number, coupling_ohm: number, input_ohm: number): { lo: number; hi: number } => ({
  lo: 0,
  hi: (line_v * input_ohm) / Math.sqrt(input_ohm * input_ohm + coupling_ohm * coupling_ohm),
});

/** Volts a meter shows on a dead wire coupled to a live one through a capacitance. */
export function ghost_v(live_v: number, coupling_f: number, hz: number, input_ohm: number): number {
  const coupling_ohm = 1 / (2 * Math.PI * hz * coupling_f);
  return (live_v * input_ohm) / Math.sqrt(input_ohm * input_ohm + coupling_ohm * coupling_ohm);
}

/** Amps a real source drives through the input of the meter. */
export const throughInput_a = (volts: number, input_ohm: number): number => volts / input_ohm;
