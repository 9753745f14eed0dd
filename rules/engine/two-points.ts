import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Check, Knowledge, NextCheck, Prepared } from '../types.ts';
import { placeOf, withCoversInFront } from './case.ts';
import { checkStanding } from './derive.ts';
import { explains } from './explains.ts';
import { endKey, round } from './next-check.ts';
import type { Permitted } from './permits.ts';
import type { Weighed } from './weigh.ts';

interface Found {
  points: [string, string];
  state: string;
  gain: number;
  min: number;
  outcomes: NextCheck['outcomes'];
}

/** The check that is asked: as the knowledge has it, or, found in the circuit, with the points and the state it was found with. */
export function askedCheck(k: Knowledge, next: Pick<NextCheck, 'check' | 'points' | 'state'>): Check {
  const check = k.checks.get(next.check)!;
  const { points, state } = next;
  if (!points || !check.measure) return check;
  const reads = check.measure.reads.map((r) => ({ ...r, points: { '*': points } }));
  return { ...check, state: state ?? check.state, measure: { ...check.measure, reads } };
}

/**
 * A reading between two points that are open to the leads already, where it tells more a minute than the planned check that would open the
 * next cover. Found in the circuit, on no list; `planned` is what it has to beat. Only where the machine is known, and only plug out.
 */
export function twoPoints(
  p: Prepared,
  f: CaseFacts,
  weighed: readonly Weighed[],
  may: readonly Permitted[],
  planned: { next: NextCheck; gain: number },
  scale?: number,
): NextCheck | undefined {
  const own = freeCheck(p, f, may, planned.next);
  if (!own) return undefined;
  const live = weighed.filter((w) => w.live && w.share > 0);
  const best = bestOf(p, f, own, live, scale);
  const margin = limit(p.knowledge, 'two-points-margin').lo;
  if (!best || best.gain / best.min <= (margin * planned.gain) / Math.max(planned.next.cost_min, 0.1)) return undefined;
  const { outcomes, points, state } = best;
  return { check: own.id, why: 'worth', cost_min: round(best.min, 2), outcomes, points, state };
}

/** The check that stands for any two points, where it may be thought of at all: no worse in order than what is planned, and that opens a cover. */
function freeCheck(p: Prepared, f: CaseFacts, may: readonly Permitted[], planned: NextCheck): Check | undefined {
  const own = may.find((m) => m.check.anywhere);
  const next = may.find((m) => m.check.id === planned.check);
  if (!own || !next || own.rank > next.rank || p.circuits.length !== 1) return undefined;
  // One told without its points tells nothing, and is not asked for over and over.
  if (f.readings.some((r) => r.check === own.check.id && !r.points)) return undefined;
  return checkStanding(p.knowledge, f, own.check) !== 'refused' && opensMore(p, f, next.check) ? own.check : undefined;
}

/** Of all pairs of open points, dead and at rest, the one that tells most a minute and tells something new. */
function bestOf(p: Prepared, f: CaseFacts, own: Check, live: readonly Weighed[], scale: number | undefined): Found | undefined {
  const k = p.knowledge;
  const taken = new Set([...f.readings.map((r) => placeOf(k, r)), ...readAlready(p, f)]);
  // Another pair that would part the suspects just as one read before did tells nothing new.
  const alike = new Set(
    f.readings.filter((r) => k.facts.get(r.fact)?.anywhere && r.points).map((r) => partition(p, r.points!, r.state, live)),
  );
  const pairs = pairsOf(openNodes(p, f));
  let best: Found | undefined;
  for (const state of k.states.values()) {
    if (state.plugged || state.running) continue;
    const there = state.id === f.state ? 0 : (k.states.get(f.state)?.to[state.id] ?? Number.POSITIVE_INFINITY);
    for (const points of pairs) {
      if (taken.has(placeOf(k, { fact: own.settles[0]!, points, state: state.id }))) continue;
      const found = worth(p, own, points, state.id, live, there + own.min, scale);
      if (!found || alike.has(partition(p, points, state.id, live))) continue;
      if (!best || found.gain / found.min > best.gain / best.min) best = found;
    }
  }
  return best;
}

/** Points of the machine behind covers that are all off by now. */
const openNodes = (p: Prepared, f: CaseFacts): string[] =>
  p.circuits[0]!.nodes.filter((n) => n.covers.length > 0 && !n.covers.includes('none'))
    .filter((n) => withCoversInFront(p.knowledge, n.covers).every((c) => f.coversOpen.has(c)))
    .map((n) => n.id);

const pairsOf = (nodes: readonly string[]): [string, string][] =>
  nodes.flatMap((a, i) => nodes.slice(i + 1).map((b): [string, string] => [a, b]));

const opensMore = (p: Prepared, f: CaseFacts, check: Check): boolean => {
  const id = p.circuits[0]!.id;
  return withCoversInFront(p.knowledge, check.covers[id] ?? check.covers['*'] ?? []).some((c) => !f.coversOpen.has(c));
};

// What a listed check has read here is not read again under another name.
function readAlready(p: Prepared, f: CaseFacts): string[] {
  const k = p.knowledge;
  const free = [...k.facts.values()].filter((x) => x.anywhere).map((x) => x.id);
  return f.readings.flatMap((r) => {
    const m = (r.check ? k.checks.get(r.check) : undefined)?.measure?.reads.find((x) => x.fact === r.fact);
    const points = r.points ?? m?.points[p.circuits[0]!.id] ?? m?.points['*'];
    return points ? free.map((fact) => placeOf(k, { fact, points, state: r.state })) : [];
  });
}

function worth(
  p: Prepared,
  check: Check,
  points: [string, string],
  state: string,
  live: readonly Weighed[],
  min: number,
  scale?: number,
): Found | undefined {
  const k = p.knowledge;
  const fact = check.settles[0]!;
  const shows = (faults: readonly string[]) => p.between('ohms', points, state, faults)[0];
  const sound = shows([]);
  // A path that a sound machine has; through an open one only a weld or a leak would show.
  if (typeof sound !== 'object' || sound.centre === 'open') return undefined;
  const results = new Map<string, { share: number; left: Weighed[] }>();
  for (const x of live) {
    const e = shows(x.faults);
    if (typeof e !== 'object') return undefined;
    const key = String(e.centre);
    const had = results.get(key);
    if (had) {
      had.share += x.share;
      continue;
    }
    const reading = { seq: -1, fact, value: e.centre, points, state, said: '', by: 'technician' as const };
    results.set(key, { share: x.share, left: live.filter((y) => explains(p, y.faults, reading, scale)) });
  }
  if (results.size < 2) return undefined;
  const total = live.reduce((sum, x) => sum + x.share, 0);
  let gain = doubt(k, live);
  for (const r of results.values()) gain -= (r.share / total) * doubt(k, r.left);
  if (gain < limit(k, 'least-gain').lo) return undefined;
  const outcomes = [...results].map(([value, r]) => ({ outcome: value, leaves: r.left.map((x) => x.faults) }));
  return { points, state, gain: round(gain, 9), min, outcomes };
}

/** Who would show the same between two points, as one word. */
const partition = (p: Prepared, points: [string, string], state: string, live: readonly Weighed[]): string => {
  const at = new Map<string, number>();
  return live
    .map((x) => {
      const e = p.between('ohms', points, state, x.faults)[0];
      const key = typeof e === 'object' ? String(e.centre) : String(e);
      if (!at.has(key)) at.set(key, at.size);
      return at.get(key);
    })
    .join();
};

/** Bits of doubt about the end. */
export function doubt(k: Prepared['knowledge'], live: readonly Weighed[]): number {
  const total = live.reduce((sum, x) => sum + x.share, 0);
  const by = new Map<string, number>();
  for (const x of live) by.set(endKey(k, x.faults, true), (by.get(endKey(k, x.faults, true)) ?? 0) + x.share);
  let h = 0;
  for (const share of by.values()) if (share > 0) h -= (share / total) * Math.log2(share / total);
  return h;
}
