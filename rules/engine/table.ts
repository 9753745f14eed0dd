import type { Check, Knowledge, Prepared, Reading, Value } from '../types.ts';
import { forMachine } from './case.ts';
import { explains } from './explains.ts';
import { measuredAs } from './judge.ts';
import { chance, word } from './likelihood.ts';
import { outcomeOf } from './outcome.ts';

/** What one check shows under each kind of candidate; candidates that would show the very same share a group. */
export interface CheckTable {
  /** faults joined -> group. */
  groupOf: Map<string, number>;
  /** Group -> value of each fact if a candidate of the group is the truth; undefined = the machine would not run. */
  centre: (Map<string, Value> | undefined)[];
  /** Group -> the check's outcome in words of the knowledge. */
  outcome: (string | undefined)[];
  /** survives[truth][other]. */
  survives: boolean[][];
  /** Group -> does what it shows speak for it, i.e. would a healthy machine not show it? */
  backs: boolean[];
}

interface Groups {
  groupOf: Map<string, number>;
  heads: string[][];
}
// What can never be told apart does not hang on the measured supply: kept per machine; the rest per machine and scale.
const groupings = new WeakMap<Prepared, Map<string, Groups>>();
const tables = new WeakMap<Prepared, Map<string, CheckTable>>();
const KEPT = 5000;

function keptIn<T>(all: WeakMap<Prepared, Map<string, T>>, p: Prepared, id: string, make: () => T): T {
  const map = all.get(p) ?? new Map<string, T>();
  all.set(p, map);
  let had = map.get(id);
  if (had === undefined) {
    if (map.size >= KEPT) map.clear();
    had = make();
    map.set(id, had);
  }
  return had;
}

/** The table of a check for the given candidates (`familyKey` names the list); kept per machine and supply scale. */
export function checkTable(
  p: Prepared,
  check: Check,
  faultSets: readonly string[][],
  familyKey: string,
  line_v: number,
  scale?: number,
): CheckTable {
  const groups = keptIn(groupings, p, `${check.id}|${familyKey}`, () => groupAlike(p, check, faultSets));
  return keptIn(tables, p, `${check.id}|${familyKey}|${scale ?? '-'}|${Math.round(line_v)}`, () =>
    build(p, check, groups, line_v, scale),
  );
}

function groupAlike(p: Prepared, check: Check, faultSets: readonly string[][]): Groups {
  const groupOf = new Map<string, number>();
  const heads: string[][] = [];
  const bySignature = new Map<string, number>();
  for (const faults of faultSets) {
    const s = signature(p, check, faults);
    let g = bySignature.get(s);
    if (g === undefined) {
      g = heads.length;
      bySignature.set(s, g);
      heads.push(faults);
    }
    groupOf.set(faults.join('+'), g);
  }
  return { groupOf, heads };
}

function build(p: Prepared, check: Check, { groupOf, heads }: Groups, line_v: number, scale?: number): CheckTable {
  const k = p.knowledge;
  const centre = heads.map((faults) => centreOf(p, check, faults, scale));
  const outcome = centre.map((c) => (c ? outcomeOf(p, check, (f) => c.get(f), line_v, scale) : undefined));
  const survives = heads.map((_, truth) => heads.map((other) => survivesResult(p, check, centre[truth], other, scale)));
  const healthy = centreOf(p, check, [], scale);
  const backs = centre.map((c) => {
    if (!c || !healthy) return c !== healthy;
    for (const [fact, value] of c) {
      if (measuredAs(check, fact)) {
        if (!explains(p, [], reading(check, fact, value), scale)) return true;
      } else {
        const silent = k.facts.get(fact)?.silent;
        const normal = silent ? (silent[String(value)] ?? 'never') : undefined;
        if (normal === 'rare' || normal === 'never') return true;
      }
    }
    return false;
  });
  return { groupOf, centre, outcome, survives, backs };
}

const reading = (check: Check, fact: string, value: Value): Reading => ({
  seq: -1,
  fact,
  check: check.id,
  value,
  state: check.state,
  said: '',
  by: 'technician',
  ahead: true,
});

function survivesResult(
  p: Prepared,
  check: Check,
  truth: Map<string, Value> | undefined,
  other: readonly string[],
  scale?: number,
): boolean {
  if (!truth) {
    const lists = check.measure ? p.expected(check.id, other, scale) : [];
    return lists.length === 0 || lists.some((l) => l === 'will-not-run');
  }
  for (const [fact, value] of truth) if (!explains(p, other, reading(check, fact, value), scale)) return false;
  return true;
}

/** The likeliest result of a check if these faults are the truth. */
export function centreOf(p: Prepared, check: Check, faults: readonly string[], scale?: number): Map<string, Value> | undefined {
  const out = new Map<string, Value>();
  if (check.measure) {
    const lists = p.expected(check.id, faults, scale);
    const list = lists.find((l) => l !== 'will-not-run');
    if (!list) return lists.length ? undefined : out;
    for (const e of list)
      out.set(
        e.fact,
        typeof e.centre === 'number' ? e.centre * (scale !== undefined && e.band.unit !== 'Ω' ? scale : 1) : e.centre,
      );
  }
  for (const fact of check.settles) {
    if (out.has(fact) || measuredAs(check, fact)) continue;
    const f = p.knowledge.facts.get(fact);
    let best: string | undefined;
    let top = -1;
    for (const c of f?.choices ?? []) {
      if (f?.noEvidence?.includes(c)) continue;
      const n = chance(p.knowledge, faults, fact, c);
      if (n > top + 1e-12) {
        top = n;
        best = c;
      }
    }
    if (best !== undefined) out.set(fact, best);
  }
  return out;
}

// Two candidates with the same signature can never be told apart by this check.
function signature(p: Prepared, check: Check, faults: readonly string[]): string {
  const k: Knowledge = p.knowledge;
  const parts: string[] = [];
  if (check.measure) {
    for (const l of p.expected(check.id, faults))
      parts.push(
        l === 'will-not-run' ? l : l.map((e) => `${e.fact}:${e.centre}:${e.band.lo}:${e.band.hi}:${e.band.open ?? ''}`).join(';'),
      );
    parts.push(faults.every((f) => k.faults.get(f)?.shows === 'always') ? 'a' : 'n');
  }
  for (const fact of check.settles)
    if (!measuredAs(check, fact)) for (const c of k.facts.get(fact)?.choices ?? []) parts.push(word(k, faults, fact, c) ?? '-');
  return parts.join('|');
}

/** Covers a check needs off on the likeliest machine in hand. */
export const coversOf = (p: Prepared, check: Check): string[] => forMachine(check.covers, p.circuits[0]?.id) ?? [];
