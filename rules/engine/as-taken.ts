import type { Check, Circuit, Expected, MeterSetting, Prepared, Reading } from '../types.ts';
import { forMachine } from './case.ts';
import { fitsCircuit } from './fits.ts';
import { nameOf } from './model.ts';
import { temperatureUntold } from './temperature.ts';
import { pointsOn } from './variants.ts';

/** What a machine would show: a band, nothing because it would not run, or nothing because it has no such points. */
export type WouldShow = Expected | 'will-not-run' | 'not-here';

/** How a reading was taken, as far as what it should show hangs on that. */
export type HowTaken = Pick<Reading, 'fact' | 'points' | 'lowImpedance' | 'lifted' | 'ahead'> & {
  check?: string;
  state?: string;
  value?: Reading['value'];
};

/**
 * What a reading would show under a set of faults, taken as it was taken: between its own points, in its own state, with its own meter
 * setting, the lead off or not. One entry per circuit that may be the one in hand; empty where there is nothing to compute it from.
 */
export function expectedAsTaken(p: Prepared, r: HowTaken, faults: readonly string[], scale?: number): WouldShow[] {
  const check = r.check ? p.knowledge.checks.get(r.check) : undefined;
  const measured = check?.measure?.reads.some((x) => x.fact === r.fact) ?? false;
  if (check && measured && asAsked(p, check, r)) return ofCheck(p, check, r.fact, faults, scale);
  const what = measured ? check?.measure?.what : anywhere(p, r.fact);
  const state = r.state ?? check?.state;
  if (!what || state === undefined) return [];
  return p.circuits
    .filter((c) => !check || fitsCircuit(check, c.attributes))
    .flatMap((c) => {
      const where = takenOn(c, check, r);
      if (!where || (what === 'amps' && !where.branch)) return [];
      return p.between(what, where.points, state, faults, {
        machine: nameOf(c),
        lowImpedance: r.lowImpedance ?? check?.measure?.lowImpedance ?? false,
        ...(temperatureUntold(p, where.points, r.value) && { anyTemperature: true }),
        ...(where.lifted && { lifted: where.lifted }),
        ...(where.branch && { branch: where.branch }),
        ...(scale !== undefined && { scale }),
      });
    });
}

/** Taken as its check says it is worked out already. */
const ofCheck = (p: Prepared, check: Check, fact: string, faults: readonly string[], scale: number | undefined): WouldShow[] =>
  p.expected(check.id, faults, scale).flatMap((list): WouldShow[] => {
    if (list === 'will-not-run') return [list];
    const expected = list.find((x) => x.fact === fact);
    return expected ? [expected] : [];
  });

/** Between which points of a circuit it was taken, round which branch, with which lead off; undefined where the circuit has no such points. */
function takenOn(
  c: Circuit,
  check: Check | undefined,
  r: HowTaken,
): { points: [string, string]; branch: string | undefined; lifted: string | undefined } | undefined {
  const read = check?.measure?.reads.find((x) => x.fact === r.fact);
  const points = r.points ?? (read && pointsOn(c, read.points));
  return (
    points && {
      points,
      branch: read && forMachine(read.branch, c.id),
      lifted: r.lifted === false ? undefined : forMachine(check?.measure?.lift, c.id),
    }
  );
}

/** Was it taken just as its check says? Then what it shows is worked out already, and its outcome counts. */
export function asAsked(p: Prepared, check: Check, r: HowTaken): boolean {
  const read = check.measure?.reads.find((x) => x.fact === r.fact);
  if (!check.measure || !read) return true;
  const { what, lowImpedance, lift } = check.measure;
  if (r.lowImpedance !== undefined && r.lowImpedance !== lowImpedance && what === 'volts') return false;
  if (r.lifted === false && p.circuits.some((c) => forMachine(lift, c.id))) return false;
  if (r.state !== undefined && r.state !== check.state && p.knowledge.states.has(r.state)) return false;
  const own = p.circuits.map((c) => pointsOn(c, read.points)).filter((x) => x !== undefined);
  if (!r.ahead && temperatureUntold(p, r.points ?? own[0], r.value)) return false;
  const there = r.points?.join('|');
  return there === undefined || own.some(([a, b]) => there === `${a}|${b}` || there === `${b}|${a}`);
}

const BY_UNIT: Partial<Record<string, MeterSetting>> = { V: 'volts', Ω: 'ohms' };
/** What a fact measures that may be read between any two points; undefined for every other fact. */
export function anywhere(p: Prepared, fact: string): MeterSetting | undefined {
  const f = p.knowledge.facts.get(fact);
  return f?.anywhere ? BY_UNIT[f.unit ?? ''] : undefined;
}
