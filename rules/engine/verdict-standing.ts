import type { CaseFacts, Knowledge, Reading, Verdict } from '../types.ts';
import { placeOf } from './case.ts';
import type { Judged } from './judge.ts';
import type { Weighed } from './weigh.ts';

/**
 * The verdicts once all readings are held together. "Agreed": read twice alike, or backed by another check that speaks for the same end.
 * "Doubted": outvoted, read twice unlike, or not to be explained by the likeliest suspect.
 * @param judged  one for each reading of `f`, in their order
 */
export function heldTogether(
  k: Knowledge,
  f: CaseFacts,
  judged: readonly Judged[],
  weighed: readonly Weighed[],
  slips: ReadonlySet<number>,
): Verdict[] {
  const top = weighed.find((w) => w.live);
  const checks = new Map(f.readings.map((r) => [r.seq, r.check]));
  const backed = (r: Reading) => top?.for.includes(r.seq) && top.for.some((seq) => checks.get(seq) !== r.check);
  return judged.map(({ verdict }, i) => {
    const r = f.readings[i]!;
    if (slips.has(r.seq) || top?.against.includes(r.seq)) return { ...verdict, standing: 'doubted' };
    const twins = twinsOf(k, f, r).map((at) => judged[at]!.verdict.class);
    if (twins.some((cls) => cls !== verdict.class)) return { ...verdict, standing: 'doubted' };
    return twins.length || backed(r) ? { ...verdict, standing: 'agreed' } : verdict;
  });
}

/** Where among the readings of a case the others stand that read the same again. */
function twinsOf(k: Knowledge, f: CaseFacts, r: Reading): number[] {
  const root = (x: Reading) => x.repeats ?? x.seq;
  const place = placeOf(k, r);
  return f.readings.flatMap((x, i) => (x.seq !== r.seq && root(x) === root(r) && placeOf(k, x) === place ? [i] : []));
}
