import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Prepared } from '../types.ts';

/** Leg to leg now, V: the newest such reading of this case that is a live supply; undefined while there is none. */
export function readLine(p: Prepared, f: Pick<CaseFacts, 'readings'>): number | undefined {
  const k = p.knowledge;
  const pairs = new Set(k.supply.legPairs.map((x) => x.join()));
  const least = limit(k, 'least-line').lo;
  let line: number | undefined;
  for (const r of [...f.readings].sort((a, b) => a.seq - b.seq)) {
    const check = r.check ? k.checks.get(r.check) : undefined;
    const m = check?.measure?.what === 'volts' ? check.measure.reads.find((x) => x.fact === r.fact) : undefined;
    const points = m?.points[p.circuits[0]?.id ?? ''] ?? m?.points['*'];
    if (points && pairs.has(points.join()) && typeof r.value === 'number' && r.value >= least) line = r.value;
  }
  return line;
}

/** The same, or the plate's volts scaled by the measured leg. */
export const lineVolts = (p: Prepared, f: Pick<CaseFacts, 'readings'>, scale?: number): number =>
  readLine(p, f) ??
  (p.machine.plate.volts ?? p.circuits[0]?.plate.volts ?? 2 * limit(p.knowledge, 'nominal-supply-leg').lo) * (scale ?? 1);
