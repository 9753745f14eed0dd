import { word } from '../say.ts';
import type { Band, Value } from '../types.ts';
import { gaugeOf, type MeterRange, WIDTH } from './gauge-of.ts';

interface Props {
  value: Value;
  shown: string;
  band: Band;
  bandShown: string;
  meter?: MeterRange;
}

export function Gauge({ value, shown, band, bandShown, meter }: Props) {
  const { bandFrom, bandWidth, mark, error } = gaugeOf(value, band, meter);
  const off = meter ? word('gauge-meter', { lo: brief(meter.lo), hi: brief(meter.hi) }) : '';
  return (
    <svg class="gauge" viewBox={`0 0 ${WIDTH} 24`} role="img" aria-label={word('gauge', { shown, band: bandShown }) + off}>
      <line class="gauge-line" x1="0" x2={WIDTH} y1="17" y2="17" />
      <rect class="gauge-band" x={bandFrom} y="12" width={bandWidth} height="10" />
      {mark && <path class="gauge-mark" d={markPath(mark)} />}
      {error && <path class="gauge-error" d={`M${error.from} 3v6M${error.to} 3v6M${error.from} 6H${error.to}`} />}
    </svg>
  );
}
export const brief = (value: number) => String(Number(value.toPrecision(4)));

function markPath({ at, off }: { at: number; off: 'above' | 'below' | undefined }): string {
  if (off === 'above') return `M${at - 6} 2l10 6l-10 6z`;
  if (off === 'below') return `M${at + 6} 2l-10 6l10 6z`;
  return `M${at - 5} 1h10l-4 8v14h-2v-14z`;
}
