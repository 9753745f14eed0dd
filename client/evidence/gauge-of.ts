import type { Band, Value } from '../types.ts';

export const WIDTH = 200;
const EDGE = 8;

/**
 * The expected band and the reading on one line. The drawing spans the band and once its width to either side (never
 * below zero); a reading beyond that stands at the edge as an arrow, since how far out it is says nothing more.
 */
export function gaugeOf(value: Value, band: Band) {
  const width = Math.max(band.hi - band.lo, Math.abs(band.hi) * 0.1, 1e-6);
  const from = band.lo >= 0 ? Math.max(0, band.lo - width) : band.lo - width;
  const to = band.hi + width;
  const x = (at: number) => EDGE + ((WIDTH - 2 * EDGE) * (at - from)) / (to - from);
  const reading = value === 'open' ? Number.POSITIVE_INFINITY : typeof value === 'number' ? value : undefined;
  const round = (at: number) => Math.round(at * 10) / 10;
  return {
    bandFrom: round(x(band.lo)),
    bandWidth: Math.max(2, round(x(band.hi) - x(band.lo))),
    mark:
      reading === undefined
        ? undefined
        : reading > to
          ? { at: WIDTH - EDGE, off: 'above' as const }
          : reading < from
            ? { at: EDGE, off: 'below' as const }
            : { at: round(x(reading)), off: undefined },
  };
}
