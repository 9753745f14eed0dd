import type { Band, Expected, Knowledge, Limit, Value } from '../types.ts';

/** Does a value lie in a band of its own unit, ends included? OL lies in it only where the band says so; a word lies in none. */
export const inside = (value: Value, band: Band): boolean =>
  value === 'open' ? band.open === true : typeof value === 'number' && value >= band.lo && value <= band.hi;

/** An all-OL band: nothing finite lies in it. */
export const onlyOpen = (band: Band): boolean => band.open === true && band.lo > band.hi;

/** What a class is measured against in this case. */
export interface ClassContext {
  /** This machine's healthy reading of the same fact, where it is read here. */
  healthy?: Expected;
  /** Leg to leg, V rms: what "full" is measured against. */
  line_v: number;
}

/**
 * The range a class stands for in this case, in the unit of its limit (limits.json, with its source) or of this machine's own healthy band;
 * undefined where it cannot be said (no healthy value to scale by).
 */
export function classBand(k: Knowledge, limitId: string, ctx: ClassContext): Band | undefined {
  if (limitId === 'healthy') return ctx.healthy?.band;
  const l = k.limits.get(limitId) as Limit;
  if (l.of === 'absolute') return band(l, 1);
  if (l.of === 'line') return band(l, ctx.line_v);
  const centre = ctx.healthy?.centre;
  return typeof centre === 'number' ? band(l, centre) : undefined;
}
function band(l: Limit, times: number): Band {
  const out: Band = { lo: l.lo * times, hi: l.hi * times, unit: l.unit, from: [l.id] };
  if (l.open) out.open = true;
  return out;
}

/**
 * The first class, in the order written, whose range holds the value; `odd` where none does.
 * @param classes  class name -> limit id, or 'healthy'
 */
export function classOf(k: Knowledge, classes: Record<string, string>, value: Value, ctx: ClassContext): string {
  for (const [name, limit] of Object.entries(classes)) {
    const b = classBand(k, limit, ctx);
    if (b && inside(value, b)) return name;
  }
  return 'odd';
}
