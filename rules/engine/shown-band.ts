import { limit } from '../knowledge/needed-limits.ts';
import { ohmsLine, slack } from '../physics/index.ts';
import type { Band, MeterSetting, Unit } from '../types.ts';
import type { Bare } from './bare-reading.ts';
import type { Model } from './model.ts';

const UNIT: Record<MeterSetting, Unit> = { volts: 'V', ohms: 'Ω', amps: 'A' };

/**
 * What the meter in hand may show for a bare reading: supply range, leads and the meter's own error put on.
 * @param scale  measured leg over nominal leg; undefined = the whole range a service may have
 */
export function shownBand(model: Model, bare: Bare, what: MeterSetting, scale: number | undefined): Band {
  const { meter } = model;
  const unit = UNIT[what];
  if (bare.lo > bare.hi) return { lo: Number.POSITIVE_INFINITY, hi: Number.NEGATIVE_INFINITY, unit, open: true, from: ['meter'] };
  const wide = what === 'ohms' ? withLeads(model, bare) : fed(model, bare, scale);
  const lo = Math.max(0, wide.lo - error(model, what, wide.lo));
  const hi = wide.hi + error(model, what, wide.hi);
  const out: Band = { lo: rounded(lo), hi: rounded(hi), unit, from: ['plate', 'meter', ...wide.from] };
  if (bare.open || hi > meter.over_range_ohm) out.open = true;
  return out;
}

interface Wide {
  lo: number;
  hi: number;
  from: string[];
}
/** Ω: leads that were measured or nulled add next to nothing. */
function withLeads({ machine, meter, knowledge }: Model, { lo, hi }: Bare): Wide {
  const leads = machine.leads_ohm === undefined ? meter.leads_ohm : limit(knowledge, 'leads-told');
  return { lo, hi: hi + leads.hi, from: [] };
}
/** V and A rise and fall with the supply. */
function fed({ knowledge }: Model, { lo, hi }: Bare, scale: number | undefined): Wide {
  if (scale !== undefined) {
    const drift = limit(knowledge, 'supply-fluctuation').lo;
    return { lo: lo * scale * (1 - drift), hi: hi * scale * (1 + drift), from: ['supply-measured'] };
  }
  const range = limit(knowledge, 'service-leg-a');
  const nominal_v = limit(knowledge, 'nominal-supply-leg').lo;
  return { lo: (lo * range.lo) / nominal_v, hi: (hi * range.hi) / nominal_v, from: ['supply'] };
}

/** How far off the meter may show. Over its last range it is as good as in that. */
function error({ meter }: Model, what: MeterSetting, value: number): number {
  const line = what === 'ohms' ? (ohmsLine(meter, value) ?? meter.ohms.at(-1)!) : meter[what];
  return slack(value, line);
}

/** Rounded so that comparing and printing agree in every runtime. */
export const rounded = (x: number): number => (Number.isFinite(x) && x !== 0 ? Number(x.toPrecision(9)) : x);
