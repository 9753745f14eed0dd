import type { Band, Value } from '../types.ts';
import { gaugeOf, WIDTH } from './gauge-of.ts';

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

function markPath({ at, off }: { at: number; off: 'above' | 'below' | undefined }): string {
  if (off === 'above') return `M${at - 6} 2l10 6l-10 6z`;
  if (off === 'below') return `M${at + 6} 2l-10 6l10 6z`;
  return `M${at - 5} 1h10l-4 8v14h-2v-14z`;
}
