import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Check, Knowledge, Likely, Prepared, Reading, Value } from '../types.ts';
import { anywhere, asAsked, asTaken } from './as-taken.ts';
import { inside } from './bands.ts';
import { latest } from './case.ts';
import { saysNothing } from './derive.ts';
import { fitsCircuit } from './fits.ts';
import { healthyTaken, measuredAs, readingClass } from './judge.ts';

/** A fault, or several at once, as a candidate cause of the complaint. */
export interface Candidate {
  faults: string[];
  weight: number;
}
export interface Weighed extends Candidate {
  share: number;
  /** Seqs of readings it cannot explain. */
  against: number[];
  /** Seqs of readings that speak for it: a healthy machine would not show them. */
  for: number[];
  confirmedBy: number[];
  live: boolean;
}

/** Every fault that may be behind the complaint on a machine that may be this one, with its weight over those machines. */
export function candidates(p: Prepared, families: readonly string[]): Candidate[] {
  const k = p.knowledge;
  const priors = p.circuits.reduce((sum, c) => sum + c.prior, 0);
  const out: Candidate[] = [];
  for (const f of k.faults.values()) {
    let weight = 0;
    for (const c of p.circuits) {
      if (!fitsCircuit(f, c.attributes)) continue;
      for (const family of families) weight += ((f.weight[family]?.[c.id] ?? f.weight[family]?.['*'] ?? 0) * c.prior) / priors;
    }
    if (weight > 0) out.push({ faults: [f.id], weight: Math.round(weight * 1e6) / 1e6 });
  }
  return out;
}

/** A part with each cause behind it that this machine can have: weight × share(cause | part). */
export function pairs(p: Prepared, families: readonly string[]): Candidate[] {
  const k = p.knowledge;
  const out = new Map<string, Candidate>();
  for (const c of candidates(p, families))
    for (const { fault, share } of k.faults.get(c.faults[0]!)!.causes) {
      const cause = k.faults.get(fault);
      if (!cause || !p.circuits.some((m) => fitsCircuit(cause, m.attributes))) continue;
      const faults = [c.faults[0]!, fault];
      const id = [...faults].sort().join('+');
      const had = out.get(id);
      if (had) had.weight += c.weight * share;
      else out.set(id, { faults, weight: c.weight * share });
    }
  return [...out.values()];
}

/** How likely an answer is under a fault (or, with none, on a machine that says nothing of it): one of five words. */
export function word(k: Knowledge, faults: readonly string[], fact: string, answer: string): Likely | undefined {
  let best: Likely | undefined;
  for (const id of faults) {
    const named = k.faults.get(id)?.signs[fact];
    if (!named) continue;
    // Of two faults at once, the one that shows is the one that makes the answer likelier.
    const mine = named[answer] ?? 'never';
    if (best === undefined || k.likely[mine] > k.likely[best]) best = mine;
  }
  if (best !== undefined) return best;
  const silent = k.facts.get(fact)?.silent;
  return silent ? (silent[answer] ?? 'never') : undefined;
}

/** Probability of an answer under a fault: its word's number, normalised over the answers of the fact. */
export const chance = (k: Knowledge, faults: readonly string[], fact: string, answer: string): number =>
  answered(k, fact, answer)(faults, faults.length === 1 ? faults[0]! : faults.join('+')).chance;

interface Answered {
  word: Likely | undefined;
  chance: number;
}
/** What one answer is worth under each candidate; `id` is the candidate's name, joined once by whoever asks often. */
function answered(k: Knowledge, fact: string, answer: string): (faults: readonly string[], id: string) => Answered {
  const all = worth.get(k) ?? new Map<string, Map<string, Answered>>();
  worth.set(k, all);
  const name = `${fact}=${answer}`;
  const mine = all.get(name) ?? new Map<string, Answered>();
  all.set(name, mine);
  return (faults, id) => {
    let had = mine.get(id);
    if (!had) {
      had = { word: word(k, faults, fact, answer), chance: workedOut(k, faults, fact, answer) };
      mine.set(id, had);
    }
    return had;
  };
}
// The knowledge is frozen: what was worked out once holds.
const worth = new WeakMap<Knowledge, Map<string, Map<string, Answered>>>();
function workedOut(k: Knowledge, faults: readonly string[], fact: string, answer: string): number {
  const choices = k.facts.get(fact)?.choices ?? [];
  let sum = 0;
  let mine = 0;
  for (const c of choices) {
    if (k.facts.get(fact)?.noEvidence?.includes(c)) continue;
    const w = word(k, faults, fact, c);
    const n = w ? k.likely[w] : 1;
    sum += n;
    if (c === answer) mine = n;
  }
  return sum > 0 ? mine / sum : 1;
}

const showsAlways = (k: Knowledge, faults: readonly string[]) => faults.every((f) => k.faults.get(f)?.shows === 'always');

/** Could this reading stand on a machine with these faults? A good reading does not clear what shows only now and then. */
export function explains(p: Prepared, faults: readonly string[], r: Reading, scale?: number): boolean {
  const k = p.knowledge;
  const check = r.check ? k.checks.get(r.check) : undefined;
  if (measuredAs(check, r.fact) || anywhere(p, r.fact)) {
    const here = asTaken(p, r, faults, scale).filter((x) => x !== 'not-here');
    if (!here.length || here.some((x) => x !== 'will-not-run' && inside(r.value, x.band))) return true;
    return !showsAlways(k, faults) && healthyTaken(p, r, scale).some((h) => inside(r.value, h.band));
  }
  return word(k, faults, r.fact, String(r.value)) !== 'never';
}

// A look for the cause behind a part may well show that cause: it does not speak against a part that has failed for good.
function explainedBehind(p: Prepared, faults: readonly string[], r: Reading, scale?: number): boolean {
  const k = p.knowledge;
  if (!showsAlways(k, faults)) return false;
  const check = r.check ? k.checks.get(r.check) : undefined;
  // What a look shows that is meant for the part itself speaks for or against it, whatever may be behind it.
  if (check?.kind !== 'cause' || check.confirms.some((x) => faults.includes(x.fault))) return false;
  return faults.some((id) => k.faults.get(id)?.causes.some((c) => k.faults.has(c.fault) && explains(p, [c.fault], r, scale)));
}

// A reading that a healthy machine would not show speaks for whatever explains it.
function unlikeHealthy(p: Prepared, r: Reading, scale?: number): boolean {
  const healthy = healthyTaken(p, r, scale);
  return healthy.length > 0 && !healthy.some((h) => inside(r.value, h.band));
}

/** What a check showed in this case, by the newest reading of each of its facts; undefined while one is missing. */
export function outcomeSeen(p: Prepared, f: CaseFacts, check: Check, line_v: number, scale?: number): string | undefined {
  const told = latest(f.readings);
  if (!check.settles.some((fact) => told.has(fact))) return undefined;
  // A reading taken otherwise than the check says is judged for what it is, and is no outcome of the check.
  const value = (fact: string): Value | undefined => {
    const r = told.get(fact);
    return r && !f.beside?.has(r.seq) && asAsked(p, check, r) ? r.value : undefined;
  };
  return outcomeOf(p, check, value, line_v, scale);
}
/** The outcome of a check whose facts read so. */
export function outcomeOf(
  p: Prepared,
  check: Check,
  value: (fact: string) => Value | undefined,
  line_v: number,
  scale?: number,
): string | undefined {
  const named = (fact: string): string | undefined => {
    const v = value(fact);
    if (v === undefined) return undefined;
    return measuredAs(check, fact) ? readingClass(p, check, fact, v, line_v, scale) : String(v);
  };
  for (const o of check.outcomes) {
    const parts = Object.entries(o.when).map(([fact, any]) => [named(fact), any] as const);
    if (parts.every(([v, any]) => v !== undefined && any.includes(v))) return o.id;
  }
  return undefined;
}

/**
 * Weighs every candidate against every reading. A reading contradicts a candidate when it lies outside that candidate's own band,
 * or is an answer it never gives. Live are those with the fewest contradictions; share = weight × how likely the answers are × ε per contradiction.
 * "Something not listed" stands last, contradicted by nothing; shares add to 1.
 * `twoAtOnce` adds a part with a cause behind it: wanted only once no single fault explains what was read, and read again.
 */
export function weigh(p: Prepared, f: CaseFacts, line_v: number, scale?: number, twoAtOnce = false): Weighed[] {
  const k = p.knowledge;
  const slip = limit(k, 'slip-rate').lo;
  const renewed = limit(k, 'renewed-factor').lo;
  const told = latest(f.readings);
  const seen = new Map<string, string>();
  for (const c of k.checks.values()) {
    const o = outcomeSeen(p, f, c, line_v, scale);
    if (o) seen.set(c.id, o);
  }
  // What was seen that proves something, of whichever fault.
  const proofs = [...k.checks.values()].flatMap((check) =>
    check.confirms.filter((x) => seen.get(check.id) === x.outcome && afterSeen(p, x.after, seen)).map((x) => ({ check, x })),
  );
  const all = candidates(p, f.families);
  if (twoAtOnce) all.push(...pairs(p, f.families));
  // Answers in words are the bulk of a case: what each is worth is looked up once and not once a candidate.
  const heard = f.readings
    .filter((r) => k.facts.has(r.fact) && !saysNothing(k, r) && !f.beside?.has(r.seq))
    .map((r) => {
      const check = r.check ? k.checks.get(r.check) : undefined;
      const fact = k.facts.get(r.fact)!;
      const normal = fact.silent ? (fact.silent[String(r.value)] ?? 'never') : undefined;
      const odd = normal === 'rare' || normal === 'never';
      const inWords = measuredAs(check, r.fact) || anywhere(p, r.fact) ? undefined : answered(k, r.fact, String(r.value));
      return { r, odd, inWords, choice: fact.kind === 'choice' };
    });
  const out = all.map((c): Weighed => {
    const id = c.faults.length === 1 ? c.faults[0]! : c.faults.join('+');
    const against: number[] = [];
    const speaking: number[] = [];
    let score = c.weight;
    // What was renewed may fail again, or have been renewed badly: less likely, never out.
    for (const id of c.faults) if (f.repaired.has(k.faults.get(id)!.end.repair)) score *= renewed;
    for (const { r, odd, inWords, choice } of heard) {
      const said = inWords?.(c.faults, id);
      const fits = said ? said.word !== 'never' : explains(p, c.faults, r, scale);
      if (!fits && !explainedBehind(p, c.faults, r, scale)) {
        against.push(r.seq);
        score *= slip;
        continue;
      }
      if (choice) score *= said?.chance ?? chance(k, c.faults, r.fact, String(r.value));
      const speaks = said ? odd && (said.word === 'always' || said.word === 'usual') : unlikeHealthy(p, r, scale);
      if (speaks) speaking.push(r.seq);
    }
    const confirmedBy: number[] = [];
    for (const { check, x } of proofs)
      if (c.faults.includes(x.fault))
        for (const fact of check.settles) {
          const r = told.get(fact);
          if (r && !against.includes(r.seq)) confirmedBy.push(r.seq);
        }
    return { ...c, share: score, against, for: speaking, confirmedBy, live: false };
  });
  if (!out.length) return [{ faults: [], weight: 0, share: 1, against: [], for: [], confirmedBy: [], live: false }];
  const fewest = Math.min(...out.map((x) => x.against.length));
  for (const x of out) x.live = x.against.length === fewest;
  // It pays for no contradiction, so it rises as every listed fault fails to explain what was read.
  const unlisted = (limit(k, 'not-listed-weight').lo * likelihoodFloor(out)) / slip ** fewest;
  const sum = out.reduce((total, x) => total + x.share, 0) + unlisted;
  for (const x of out) x.share = Math.round((x.share / sum) * 1e6) / 1e6;
  out.sort((a, b) => b.share - a.share || a.faults.join().localeCompare(b.faults.join()));
  out.push({
    faults: [],
    weight: 0,
    share: Math.round((unlisted / sum) * 1e6) / 1e6,
    against: [],
    for: [],
    confirmedBy: [],
    live: false,
  });
  return out;
}

// "Something not listed" answers as the average machine does, so that it neither drowns in nor rises above the listed ones by words alone.
function likelihoodFloor(xs: readonly Weighed[]): number {
  const live = xs.filter((x) => x.live);
  const weight = live.reduce((sum, x) => sum + x.weight, 0);
  const score = live.reduce((sum, x) => sum + x.share, 0);
  return weight > 0 ? score / weight : 1;
}

/** A link to a check that this machine does not have is dropped. */
export function afterSeen(
  p: Prepared,
  after: { check: string; outcome: string }[] | undefined,
  seen: ReadonlyMap<string, string>,
): boolean {
  return (after ?? []).every((a) => {
    const c = p.knowledge.checks.get(a.check);
    if (!c || !p.circuits.some((m) => fitsCircuit(c, m.attributes))) return true;
    return seen.get(a.check) === a.outcome;
  });
}
