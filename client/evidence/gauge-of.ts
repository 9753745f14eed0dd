import type { EvidenceRow } from '../../server/types.ts';
import type { Band, Value } from '../types.ts';

export const WIDTH = 200;
const EDGE = 8;
const RIGHT = WIDTH - EDGE;
/** Where over range (OL) begins on a drawing that shows it. */
const OVER_FROM = 150;
/** Ohms no meter shows as a number: a band that ends there has no end. */
const NO_END = 1e11;

interface GaugeDrawing {
  bandFrom: number;
  bandWidth: number;
  mark: { at: number; off: 'above' | 'below' | undefined } | undefined;
  /** What the true value may be, given the meter's error; where the reading itself is on the drawing. */
  error?: { from: number; to: number };
}
/** What the true value may be, given the meter's error. */
export type MeterRange = NonNullable<EvidenceRow['meter']>;

/**
 * The expected band and the reading on one line. The drawing spans the band and once its width to either side (never
 * below zero); a reading beyond that stands at the edge as an arrow, since how far out it is says nothing more.
 * Where over range is what a good one shows, the right end of the line is over range.
 */
export function gaugeOf(value: Value, band: Band, meter?: MeterRange): GaugeDrawing {
  if (band.open || band.hi >= NO_END) return withOver(value, band, meter);
  const width = Math.max(band.hi - band.lo, Math.abs(band.hi) * 0.1, 1e-6);
  const from = band.lo >= 0 ? Math.max(0, band.lo - width) : band.lo - width;
  const x = scale(from, band.hi + width, RIGHT);
  const mark = x.mark(value);
  return {
    bandFrom: x.at(band.lo),
    bandWidth: Math.max(2, x.at(band.hi) - x.at(band.lo)),
    mark,
    ...(meter && !mark?.off && { error: x.range(meter) }),
  };
}

/** All OL (low end above the high one), or from some ohms up to OL. */
function withOver(value: Value, band: Band, meter?: MeterRange): GaugeDrawing {
  const only = band.lo > band.hi || band.lo >= NO_END;
  // Any number is far from OL; how far says nothing, so it stands at the left end.
  if (only) {
    const mark = typeof value === 'number' ? { at: EDGE, off: 'below' as const } : overMark(value);
    return { bandFrom: OVER_FROM, bandWidth: RIGHT - OVER_FROM, mark };
  }
  const width = Math.max(band.lo, 1);
  const x = scale(0, band.hi < NO_END ? Math.max(band.hi, band.lo + width) : band.lo + width, OVER_FROM);
  const mark = value === 'open' ? overMark(value) : x.mark(value);
  return {
    bandFrom: x.at(band.lo),
    bandWidth: RIGHT - x.at(band.lo),
    mark: mark?.off === 'above' ? { at: OVER_FROM, off: undefined } : mark,
    ...(meter && mark && !mark.off && { error: x.range(meter) }),
  };
}

const overMark = (value: Value) => (value === 'open' ? { at: (OVER_FROM + RIGHT) / 2, off: undefined } : undefined);

function scale(from: number, to: number, right: number) {
  const at = (value: number) => Math.round((EDGE + ((right - EDGE) * (value - from)) / (to - from)) * 10) / 10;
  const mark = (value: Value): GaugeDrawing['mark'] => {
    const reading = value === 'open' ? Number.POSITIVE_INFINITY : typeof value === 'number' ? value : undefined;
    if (reading === undefined) return undefined;
    if (reading > to) return { at: right, off: 'above' };
    if (reading < from) return { at: EDGE, off: 'below' };
    return { at: at(reading), off: undefined };
  };
  const range = ({ lo, hi }: MeterRange) => ({ from: Math.max(EDGE, at(lo)), to: Math.min(right, at(hi)) });
  return { at, mark, range };
}
