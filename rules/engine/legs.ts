import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Check, Knowledge, Prepared, Reading } from '../types.ts';
import { pointsOn } from './variants.ts';

/** Both legs against one point, and leg to leg, as one visit gave them: V. */
export interface LegSet {
  parts: [Reading, Reading];
  whole: Reading;
}
/** How the two legs of a set stand to each other, and the higher of them. */
export interface LegsRead {
  apart: boolean;
  sums: boolean;
  dead: boolean;
  higher_v: number;
}

/**
 * Every set of leg readings in the case that this reading is part of: what was read for the first time together, for the second time, ...
 * and the newest of each. Which facts belong together follows from where they are read: leg to leg, and each of the two to one third point.
 */
export function legSets(p: Prepared, f: Pick<CaseFacts, 'readings'>, r: Reading): LegSet[] {
  const check = r.check ? p.knowledge.checks.get(r.check) : undefined;
  const facts = check && legFacts(p, check);
  if (!facts?.includes(r.fact)) return [];
  const told = facts.map((fact) =>
    f.readings.filter((x) => x.fact === fact && x.check === check!.id && typeof x.value === 'number'),
  );
  const times = Math.min(...told.map((x) => x.length));
  if (times === 0) return [];
  const rounds = [...Array.from({ length: times }, (_, i) => told.map((x) => x[i]!)), told.map((x) => x.at(-1)!)];
  return rounds
    .filter((x) => x.some((y) => y.seq === r.seq) && new Set(x.map((y) => y.state)).size === 1)
    .map(([whole, a, b]) => ({ whole: whole!, parts: [a!, b!] }));
}

/** The fact read leg to leg, and the two read from each leg to one and the same point; undefined where a check does not read all three. */
function legFacts(p: Prepared, check: Check): string[] | undefined {
  const circuit = p.circuits[0];
  if (check.measure?.what !== 'volts' || !circuit) return undefined;
  const read = check.measure.reads.flatMap((x) => {
    const points = pointsOn(circuit, x.points);
    return points ? [{ fact: x.fact, points }] : [];
  });
  for (const whole of read) {
    if (!p.knowledge.supply.legPairs.some((pair) => pair.join() === whole.points.join())) continue;
    for (const a of read)
      for (const b of read)
        if (a.points[0] === whole.points[0] && b.points[0] === whole.points[1] && a.points[1] === b.points[1])
          return [whole.fact, a.fact, b.fact];
  }
  return undefined;
}

/**
 * Two legs of one winding add up to what stands between them, whatever pulls them apart: a lost neutral or a poor joint. On a wye and on a
 * high leg they do not. `dead`: one of the legs has nothing, which is another matter.
 */
export function legsRead(k: Knowledge, { parts, whole }: LegSet): LegsRead {
  const [a, b, w] = [parts[0].value, parts[1].value, whole.value].map(Number) as [number, number, number];
  return {
    apart: Math.abs(a - b) > limit(k, 'v-legs-apart').lo,
    sums: Math.abs(a + b - w) <= limit(k, 'legs-sum').hi * w,
    dead: Math.min(a, b) <= limit(k, 'v-dead').hi,
    higher_v: Math.max(a, b),
  };
}
