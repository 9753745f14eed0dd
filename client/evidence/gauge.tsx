import type { Band, Value } from '../types.ts';

const WIDTH = 200;
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

export function Gauge({ value, shown, band, bandShown }: { value: Value; shown: string; band: Band; bandShown: string }) {
  const { bandFrom, bandWidth, mark } = gaugeOf(value, band);
  return (
    <svg class="gauge" viewBox={`0 0 ${WIDTH} 24`} role="img" aria-label={`Reading ${shown}, expected ${bandShown}`}>
      <line class="gauge-line" x1="0" x2={WIDTH} y1="17" y2="17" />
      <rect class="gauge-band" x={bandFrom} y="12" width={bandWidth} height="10" />
      {mark && <path class="gauge-mark" d={markPath(mark)} />}
    </svg>
  );
}

function markPath({ at, off }: { at: number; off?: 'above' | 'below' }): string {
  if (off === 'above') return `M${at - 6} 2l10 6l-10 6z`;
  if (off === 'below') return `M${at + 6} 2l-10 6l10 6z`;
  return `M${at - 5} 1h10l-4 8v14h-2v-14z`;
}
