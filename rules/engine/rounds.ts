import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Consultation, Prepared, Reading } from '../types.ts';
import { noFreer } from './referral.ts';

/**
 * A case goes in rounds: a cause found, its repair, the proof of it. A proof that fails opens the next round with what is known:
 * all readings but those that spoke for the part just renewed, and the repair itself, which now is less likely to be needed.
 * `one` consults one round: on what counts for it, and on what was told after its repair.
 */
export async function rounds(
  p: Prepared,
  f: CaseFacts,
  one: (counts: CaseFacts, after?: CaseFacts) => Promise<Consultation>,
): Promise<Consultation> {
  const k = p.knowledge;
  const repairs = f.readings.filter((r) => isRepair(p, r)).map((r) => r.seq);
  // Until the first repair nothing was told after one.
  let counts: CaseFacts = repairs.length ? { ...f, readings: f.readings.filter((r) => when(r) < repairs[0]!) } : f;
  let out = await one(counts, undefined);
  if (out.stops.length) return out;
  const most = limit(k, 'most-rounds').lo;
  let failed = 0;
  for (const [i, seq] of repairs.entries()) {
    const until = repairs[i + 1] ?? Number.POSITIVE_INFINITY;
    const since = f.readings.filter((r) => when(r) > seq && when(r) < until);
    if (out.conclusion?.is !== 'confirmed') {
      // Something was mended before anything was found: what was told since joins the rest.
      counts = { ...counts, readings: joined(counts.readings, since) };
      out = await one(counts, undefined);
      continue;
    }
    out = await one(counts, { ...f, readings: since });
    if (!out.trace.some((t) => t.set === 'follow-through' && reopens(p, t.rule))) return out;
    const faults = out.conclusion?.faults ?? [];
    const gone = spokeFor(p, counts, out, faults);
    const repaired = new Set(counts.repaired);
    for (const id of faults) repaired.add(k.faults.get(id)!.end.repair);
    const kept = counts.readings.filter((r) => !gone.has(r.seq));
    counts = {
      ...counts,
      repaired,
      readings: joined(
        kept,
        since.filter((r) => !isProof(p, r)),
      ),
    };
    out = await one(counts, undefined);
    failed++;
    // Repairs that fail one after the other: whatever it is, it is not on this list.
    if (failed >= most) {
      const { next: _, referral, ...rest } = out;
      const is = 'not explained';
      const strict = referral && (await noFreer(k, referral, { conclusion: is }));
      return {
        ...rest,
        conclusion: { is, faults: [] },
        ...(strict && { referral: strict.referral }),
        followThrough: [],
        ahead: { min: 0, checks: 0 },
      };
    }
  }
  return out;
}

const when = (r: Reading): number => r.first ?? r.seq;
/** What was told anew after a repair stands in place of what was told before it. */
export const joined = (before: readonly Reading[], since: readonly Reading[]): Reading[] => {
  const anew = new Set(since.map((r) => r.fact));
  return [...before.filter((r) => !anew.has(r.fact)), ...since];
};
const isRepair = (p: Prepared, r: Reading): boolean => {
  const fact = p.knowledge.facts.get(r.fact);
  return fact?.event === 'repair' && r.value === fact.choices?.[0];
};
const isProof = (p: Prepared, r: Reading): boolean => r.check !== undefined && p.knowledge.checks.get(r.check)?.kind === 'proof';
const reopens = (p: Prepared, rule: string): boolean =>
  p.knowledge.rules['follow-through'].find((r) => r.id === rule)?.then.next === 'reopen';

// What was read or seen of the part itself is history now; what people told of the complaint still stands.
function spokeFor(p: Prepared, f: CaseFacts, out: Consultation, faults: readonly string[]): Set<number> {
  const of = out.suspects.filter((s) => s.faults.some((id) => faults.includes(id)));
  const seqs = new Set(of.flatMap((s) => [...s.for, ...s.confirmedBy]));
  const toldUpTo = limit(p.knowledge, 'levels-told').hi;
  const told = (r: Reading) => (r.check ? (p.knowledge.checks.get(r.check)?.level ?? 0) : 0) <= toldUpTo;
  return new Set(f.readings.filter((r) => seqs.has(r.seq) && !told(r)).map((r) => r.seq));
}
