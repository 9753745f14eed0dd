import { curveOf } from '../knowledge/curves.ts';
import { limit, type NeededLimit } from '../knowledge/needed-limits.ts';
import { byTable_ohm } from '../physics/index.ts';
import type { Branch, Circuit, Knowledge, MachineInHand, Prepared, Value } from '../types.ts';

interface Span {
  lo: number;
  hi: number;
}
/** Limits a sensor is judged by, in °C: what its ohms are printed for, the rooms that machines stand in, how far a told one may be off; and its own tolerance. */
export interface SensorLimits {
  printed_c: number;
  rooms_c: Span;
  doubt_c: number;
  tolerance: Span;
}
const drawn = new WeakMap<Circuit, Map<string, Circuit>>();

/** A circuit whose sensors read as at the temperatures told, or as printed; `any`: as in any room. The same object for the same numbers. */
export function atTemperature(c: Circuit, told: MachineInHand['temperatures'], limits: SensorLimits, any: boolean): Circuit {
  if (!c.branches.some((b) => b.follows)) return c;
  const key = JSON.stringify([told ?? {}, limits, any]);
  const all = drawn.get(c) ?? new Map<string, Circuit>();
  drawn.set(c, all);
  const had = all.get(key);
  if (had) return had;
  const made: Circuit = {
    ...c,
    branches: c.branches.map((b) => (b.follows ? sensor(b, b.follows, told?.[b.follows.at], limits, any) : b)),
    ...(any && { redrawn: [...(c.redrawn ?? []), 'any-temperature'] }),
  };
  all.set(key, made);
  return made;
}

function sensor(
  b: Branch,
  follows: NonNullable<Branch['follows']>,
  told_c: number | undefined,
  limits: SensorLimits,
  any: boolean,
): Branch {
  const { printed_c, rooms_c, doubt_c, tolerance } = limits;
  const at = told_c ?? printed_c;
  const range = any ? rooms_c : { lo: at - doubt_c, hi: at + doubt_c };
  const ohm = mean(shows(follows.curves, at));
  return {
    ...b,
    ohm,
    tolerance: [
      (Math.min(...shows(follows.curves, range.hi)) * tolerance.lo) / ohm,
      (Math.max(...shows(follows.curves, range.lo)) * tolerance.hi) / ohm,
    ],
  };
}

/** Ω of each curve at a temperature; beyond its rows those of its last one. */
function shows(ids: readonly string[], at_c: number): number[] {
  return ids.flatMap((id) => {
    const rows = curveOf(id)?.rows;
    if (!rows?.length) return [];
    const held = Math.min(Math.max(at_c, rows[0]![0]), rows.at(-1)![0]);
    return [byTable_ohm(rows, held)!];
  });
}
const mean = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0) / all.length;

/** Does a reading between these points hang on a temperature that nobody has told? Not where no temperature could make it. */
export function temperatureUntold(p: Prepared, points: readonly [string, string] | undefined, value?: Value): boolean {
  if (!points || value === 'open') return false;
  return p.circuits.some((c) =>
    c.branches.some((b) => {
      if (!b.follows || p.machine.temperatures?.[b.follows.at] !== undefined) return false;
      if (!(points.includes(b.a) && points.includes(b.b))) return false;
      const least = Math.min(...b.follows.curves.map((id) => curveOf(id)?.rows.at(-1)?.[1] ?? 0));
      return typeof value !== 'number' || value >= least;
    }),
  );
}

export const sensorLimits = (k: Knowledge): SensorLimits => {
  const span = (id: NeededLimit): Span => {
    const { lo, hi } = limit(k, id);
    return { lo, hi };
  };
  return {
    printed_c: limit(k, 'sensor-printed').lo,
    rooms_c: span('sensor-rooms'),
    doubt_c: span('sensor-doubt').hi,
    tolerance: span('sensor-tolerance'),
  };
};

/** The fact that tells how warm the part is that this fact reads; undefined where what it reads follows no temperature. */
export function temperatureOf(k: Knowledge, fact: string): string | undefined {
  const reads = [...k.checks.values()].flatMap((c) => c.measure?.reads ?? []).filter((r) => r.fact === fact);
  for (const m of k.machines.values())
    for (const b of m.branches)
      if (b.follows && reads.some((r) => (r.points[m.id] ?? r.points['*'])?.every((n) => n === b.a || n === b.b)))
        return b.follows.at;
  return undefined;
}
