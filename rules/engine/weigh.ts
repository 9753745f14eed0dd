import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Fact, Knowledge, Prepared, Reading } from '../types.ts';
import { type Candidate, candidates, pairs } from './candidates.ts';
import { latest } from './case.ts';
import { saysNothing } from './derive.ts';
import { explainedBehind, explaining, isMeasured, unlikeHealthy } from './explains.ts';
import { nameOfFaults, type Worth, worthOf } from './likelihood.ts';
import { afterSeen, outcomesSeen } from './outcome.ts';

/** A candidate, weighed. */
export interface Weighed extends Candidate {
  share: number;
  /** Seqs of readings it cannot explain. */
  against: number[];
  /** Seqs of readings that speak for it: a healthy machine would not show them. */
  for: number[];
  confirmedBy: number[];
  live: boolean;
}

/**
 * Weighs every candidate against every reading. A reading contradicts a candidate when it lies outside that candidate's own band,
 * or is an answer it never gives. Live are those with the fewest contradictions; share = weight × how likely the answers are × ε per contradiction.
 * "Something not listed" stands last, contradicted by nothing; shares add to 1.
 * Order: by share, then by name. Confirmed is who has a proof seen whose readings do not speak against it.
 * @param line_v  leg to leg in this case, V rms
 * @param scale  measured leg over nominal leg; undefined while none was read
 * @param twoAtOnce  a part with a cause behind it as well: wanted only once no single fault explains what was read, and read again
 */
export function weigh(p: Prepared, f: CaseFacts, line_v: number, scale?: number, twoAtOnce = false): Weighed[] {
  const all = [...candidates(p, f.families), ...(twoAtOnce ? pairs(p, f.families) : [])];
  if (!all.length) return [notListed(1)];
  const evidence = evidenceOf(p, f, scale);
  const proofs = proofsSeen(p, f, line_v, scale);
  return withShares(
    p.knowledge,
    all.map((c) => weighOne(p, f, c, evidence, proofs, scale)),
  );
}

const notListed = (share: number): Weighed => ({
  faults: [],
  weight: 0,
  share,
  against: [],
  for: [],
  confirmedBy: [],
  live: false,
});

/** One reading as it is held against every candidate: all that does not hang on the candidate is looked up once. */
interface Evidence {
  reading: Reading;
  /** What an answer in words is worth; undefined = it is held against bands. */
  worth: ((faults: readonly string[], name: string) => Worth) | undefined;
  explained: (faults: readonly string[], name: string) => boolean;
  /** An answer has a chance; a quantity lies in a band or does not. */
  hasChance: boolean;
  /** A sound machine hardly shows it. */
  odd: boolean;
}

function evidenceOf(p: Prepared, f: CaseFacts, scale: number | undefined): Evidence[] {
  const k = p.knowledge;
  return f.readings
    .filter((r) => k.facts.has(r.fact) && !saysNothing(k, r) && !f.beside?.has(r.seq))
    .map((reading) => {
      const fact = k.facts.get(reading.fact)!;
      const measured = isMeasured(p, reading);
      return {
        reading,
        worth: measured ? undefined : worthOf(k, reading.fact, String(reading.value)),
        explained: explaining(p, reading, scale),
        hasChance: fact.kind === 'choice',
        odd: measured ? unlikeHealthy(p, reading, scale) : oddWhenSound(fact, String(reading.value)),
      };
    });
}

/** Is this answer rare on a machine that says nothing of the fact? */
export function oddWhenSound(fact: Fact, answer: string): boolean {
  const likely = fact.silent ? (fact.silent[answer] ?? 'never') : undefined;
  return likely === 'rare' || likely === 'never';
}

interface Proof {
  fault: string;
  /** Facts whose newest reading is the proof. */
  facts: readonly string[];
}
/** What was seen that proves something, of whichever fault. */
function proofsSeen(p: Prepared, f: CaseFacts, line_v: number, scale: number | undefined): Proof[] {
  const seen = outcomesSeen(p, f, line_v, scale);
  return [...p.knowledge.checks.values()].flatMap((check) =>
    check.confirms
      .filter((x) => seen.get(check.id) === x.outcome && afterSeen(p, x.after, seen))
      .map((x) => ({ fault: x.fault, facts: check.settles })),
  );
}

/** Its `share` is not yet a share: it stands to those of the others as shares do. */
function weighOne(
  p: Prepared,
  f: CaseFacts,
  candidate: Candidate,
  evidence: readonly Evidence[],
  proofs: readonly Proof[],
  scale: number | undefined,
): Weighed {
  const { faults } = candidate;
  const name = nameOfFaults(faults);
  const slip = limit(p.knowledge, 'slip-rate').lo;
  const against: number[] = [];
  const speaking: number[] = [];
  let score = renewedLess(p.knowledge, f, candidate);
  for (const { reading, worth, explained, hasChance, odd } of evidence) {
    const said = worth?.(faults, name);
    const fits = said ? said.word !== 'never' : explained(faults, name);
    if (!fits && !explainedBehind(p, faults, reading, scale)) {
      against.push(reading.seq);
      score *= slip;
      continue;
    }
    if (hasChance && said) score *= said.chance;
    if (odd && (!said || said.word === 'always' || said.word === 'usual')) speaking.push(reading.seq);
  }
  const told = latest(f.readings);
  const confirmedBy = proofs
    .filter((x) => faults.includes(x.fault))
    .flatMap((x) => x.facts.flatMap((fact) => told.get(fact)?.seq ?? []))
    .filter((seq) => !against.includes(seq));
  return { ...candidate, share: score, against, for: speaking, confirmedBy, live: false };
}

/** What was renewed may fail again, or have been renewed badly: less likely, never out. */
function renewedLess(k: Knowledge, f: CaseFacts, { faults, weight }: Candidate): number {
  const times = limit(k, 'renewed-factor').lo;
  return faults.reduce((score, id) => (f.repaired.has(k.faults.get(id)!.end.repair) ? score * times : score), weight);
}

/** Scores become shares, likeliest first; those with the fewest contradictions are live; "something not listed" joins them last. */
function withShares(k: Knowledge, out: Weighed[]): Weighed[] {
  const fewest = Math.min(...out.map((x) => x.against.length));
  for (const x of out) x.live = x.against.length === fewest;
  // It pays for no contradiction, so it rises as every listed fault fails to explain what was read.
  const unlisted = (limit(k, 'not-listed-weight').lo * likelihoodFloor(out)) / limit(k, 'slip-rate').lo ** fewest;
  const sum = out.reduce((total, x) => total + x.share, 0) + unlisted;
  const share = (score: number) => Math.round((score / sum) * 1e6) / 1e6;
  for (const x of out) x.share = share(x.share);
  out.sort((a, b) => b.share - a.share || a.faults.join().localeCompare(b.faults.join()));
  return [...out, notListed(share(unlisted))];
}

/** "Something not listed" answers as the average machine does, so that it neither drowns in nor rises above the listed ones by words alone. */
function likelihoodFloor(all: readonly Weighed[]): number {
  const live = all.filter((x) => x.live);
  const weight = live.reduce((sum, x) => sum + x.weight, 0);
  const score = live.reduce((sum, x) => sum + x.share, 0);
  return weight > 0 ? score / weight : 1;
}
