/** Volts lost on the way there and back. */
export const drop_v = (oneWay_ft: number, ohm_kft: number, amps: number): number => ((2 * oneWay_ft) / 1000) * ohm_kft * amps;
/** Volts along one conductor. */
export const along_v = (amps: number, ohm: number): number => amps * ohm;
/** Ω per km from Ω per 1000 ft. */
export const perKm_ohm = (ohm_kft: number): number => ohm_kft / 0.3048;
