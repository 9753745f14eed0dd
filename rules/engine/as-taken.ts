import type { Check, Expected, MeterSetting, Prepared, Reading } from '../types.ts';
import { forMachine } from './case.ts';
import { fitsCircuit } from './fits.ts';
import { nameOf } from './model.ts';
import { temperatureUntold } from './temperature.ts';
import { pointsOn } from './variants.ts';

export type Taken = Expected | 'will-not-run' | 'not-here';

/** What of how a reading was taken changes what it should show. */
export type HowTaken = Pick<Reading, 'fact' | 'points' | 'lowImpedance' | 'lifted' | 'ahead'> & {
  check?: string;
  state?: string;
  value?: Reading['value'];
};

/**
 * What a reading would show under a set of faults, taken as it was taken: between its own points, in its own state, with its own meter
 * setting, the lead off or not. One entry per circuit that may be the one in hand; empty where there is nothing to compute it from.
 */
export function asTaken(p: Prepared, r: HowTaken, faults: readonly string[], scale?: number): Taken[] {
  const k = p.knowledge;
  const check = r.check ? k.checks.get(r.check) : undefined;
  const m = check?.measure?.reads.find((x) => x.fact === r.fact);
  if (check?.measure && m && asAsked(p, check, r))
    return p.expected(check.id, faults, scale).flatMap((list): Taken[] => {
      if (list === 'will-not-run') return [list];
      const e = list.find((x) => x.fact === r.fact);
      return e ? [e] : [];
    });
  const what = check?.measure && m ? check.measure.what : anywhere(p, r.fact);
  const state = r.state ?? check?.state;
  if (!what || state === undefined) return [];
  const out: Taken[] = [];
  for (const c of p.circuits) {
    if (check && !fitsCircuit(check, c.attributes)) continue;
    const points = r.points ?? (m && pointsOn(c, m.points));
    const branch = m && forMachine(m.branch, c.id);
    if (!points || (what === 'amps' && !branch)) continue;
    const lead = r.lifted === false ? undefined : forMachine(check?.measure?.lift, c.id);
    out.push(
      ...p.between(what, points, state, faults, {
        machine: nameOf(c),
        lowImpedance: r.lowImpedance ?? check?.measure?.lowImpedance ?? false,
        ...(temperatureUntold(p, points, r.value) && { anyTemperature: true }),
        ...(lead && { lifted: lead }),
        ...(branch && { branch }),
        ...(scale !== undefined && { scale }),
      }),
    );
  }
  return out;
}

/** Was it taken just as its check says? Then what it shows is worked out already, and its outcome counts. */
export function asAsked(p: Prepared, check: Check, r: HowTaken): boolean {
  const m = check.measure?.reads.find((x) => x.fact === r.fact);
  if (!check.measure || !m) return true;
  if (r.lowImpedance !== undefined && r.lowImpedance !== check.measure.lowImpedance && check.measure.what === 'volts')
    return false;
  if (r.lifted === false && p.circuits.some((c) => forMachine(check.measure?.lift, c.id))) return false;
  if (r.state !== undefined && r.state !== check.state && p.knowledge.states.has(r.state)) return false;
  const own = p.circuits.map((c) => pointsOn(c, m.points)).find((x) => x !== undefined);
  if (!r.ahead && temperatureUntold(p, r.points ?? own, r.value)) return false;
  if (!r.points) return true;
  const [a, b] = r.points;
  return p.circuits.some((c) => {
    const points = pointsOn(c, m.points);
    return points !== undefined && ((points[0] === a && points[1] === b) || (points[0] === b && points[1] === a));
  });
}

const WHAT: Partial<Record<string, MeterSetting>> = { V: 'volts', Ω: 'ohms' };
/** What a fact measures that may be read between any two points; undefined for every other fact. */
export function anywhere(p: Prepared, fact: string): MeterSetting | undefined {
  const f = p.knowledge.facts.get(fact);
  return f?.anywhere ? WHAT[f.unit ?? ''] : undefined;
}
