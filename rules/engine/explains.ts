import type { Knowledge, Prepared, Reading } from '../types.ts';
import { anywhere, expectedAsTaken } from './as-taken.ts';
import { inside } from './bands.ts';
import { healthyAsTaken, measuredAs } from './judge.ts';
import { keptFor } from './kept.ts';
import { nameOfFaults, word } from './likelihood.ts';

const READINGS_KEPT = 5_000;

/** Could this reading stand on a machine with these faults? A good reading does not clear what shows only now and then. */
export const explains = (p: Prepared, faults: readonly string[], r: Reading, scale?: number): boolean =>
  explaining(p, r, scale)(faults, nameOfFaults(faults));

/** The same for many faults: `name` is theirs, joined once by whoever asks often. */
export function explaining(p: Prepared, r: Reading, scale?: number): (faults: readonly string[], name: string) => boolean {
  const k = p.knowledge;
  if (!isMeasured(p, r)) return (faults) => word(k, faults, r.fact, String(r.value)) !== 'never';
  const known = byReading(p, takenAs(r, scale), () => new Map());
  return (faults, name) => {
    let had = known.get(name);
    if (had === undefined) {
      had = holds(p, faults, r, scale);
      known.set(name, had);
    }
    return had;
  };
}
// Every turn asks it again of all that was read before.
const byReading = keptFor<Prepared, Map<string, boolean>>(READINGS_KEPT);
/** All of a reading that its being explained hangs on. */
const takenAs = (r: Reading, scale: number | undefined): string =>
  `${r.fact}|${r.check}|${typeof r.value}|${r.value}|${r.points}|${r.state}|${r.lowImpedance}|${r.lifted}|${r.ahead}|${scale}`;

/** Is it held against bands, not against how likely an answer is? */
export const isMeasured = (p: Prepared, r: Reading): boolean =>
  measuredAs(r.check ? p.knowledge.checks.get(r.check) : undefined, r.fact) !== undefined || anywhere(p, r.fact) !== undefined;

function holds(p: Prepared, faults: readonly string[], r: Reading, scale: number | undefined): boolean {
  const here = expectedAsTaken(p, r, faults, scale).filter((x) => x !== 'not-here');
  if (!here.length || here.some((x) => x !== 'will-not-run' && inside(r.value, x.band))) return true;
  return !showsAlways(p.knowledge, faults) && healthyAsTaken(p, r, scale).some((h) => inside(r.value, h.band));
}

const showsAlways = (k: Knowledge, faults: readonly string[]) => faults.every((f) => k.faults.get(f)?.shows === 'always');

/** A look for the cause behind a part may well show that cause: it does not speak against a part that has failed for good. */
export function explainedBehind(p: Prepared, faults: readonly string[], r: Reading, scale?: number): boolean {
  const k = p.knowledge;
  if (!showsAlways(k, faults)) return false;
  const check = r.check ? k.checks.get(r.check) : undefined;
  // What a look shows that is meant for the part itself speaks for or against it, whatever may be behind it.
  if (check?.kind !== 'cause' || check.confirms.some((x) => faults.includes(x.fault))) return false;
  return faults.some((id) => k.faults.get(id)?.causes.some((c) => k.faults.has(c.fault) && explains(p, [c.fault], r, scale)));
}

/** A reading that a healthy machine would not show speaks for whatever explains it. */
export function unlikeHealthy(p: Prepared, r: Reading, scale?: number): boolean {
  const healthy = healthyAsTaken(p, r, scale);
  return healthy.length > 0 && !healthy.some((h) => inside(r.value, h.band));
}
