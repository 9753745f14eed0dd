import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Knowledge, Prepared } from '../types.ts';
import { candidates } from './candidates.ts';
import { placeOf } from './case.ts';
import { saysNothing } from './derive.ts';
import { explains } from './explains.ts';
import { chance } from './likelihood.ts';
import { endKey } from './next-check.ts';
import type { Weighed } from './weigh.ts';

/**
 * The answer most likely to be a slip, where that is likely enough to ask it once more before the case ends: all else told fits together
 * better without it. `allowed`: checks this person may be asked. Danger signs are not doubted; an answer given twice stands.
 */
export function lookAgain(p: Prepared, f: CaseFacts, allowed: ReadonlySet<string>, scale?: number): number | undefined {
  const k = p.knowledge;
  const slip = limit(k, 'slip-rate').lo;
  const least = limit(k, 'look-again').lo;
  const told = f.readings.filter((r) => k.facts.has(r.fact) && !saysNothing(k, r) && !f.beside?.has(r.seq));
  const without = told.map(() => 0);
  let all = 0;
  for (const c of candidates(p, f.families)) {
    const factors = told.map((r) => {
      if (!explains(p, c.faults, r, scale)) return slip;
      return k.facts.get(r.fact)!.kind === 'choice' ? chance(k, c.faults, r.fact, String(r.value)) || slip : 1;
    });
    const score = c.weight * factors.reduce((a, b) => a * b, 1);
    all += score;
    told.forEach((r, i) => {
      const choices = k.facts.get(r.fact)!.choices?.length ?? 2;
      without[i] = without[i]! + ((score / factors[i]!) * slip) / choices;
    });
  }
  const sum = all + without.reduce((a, b) => a + b, 0);
  let best: { seq: number; share: number } | undefined;
  told.forEach((r, i) => {
    const check = r.check ? k.checks.get(r.check) : undefined;
    const again = told.some((x) => x.seq !== r.seq && placeOf(k, x) === placeOf(k, r)) || r.repeats !== undefined;
    if (!check || check.kind === 'gate' || again || !allowed.has(check.id)) return;
    const share = Math.round((without[i]! / sum) * 1e6) / 1e6;
    if (share >= least && (!best || share > best.share)) best = { seq: r.seq, share };
  });
  return best?.seq;
}

/**
 * Before a part is condemned: the one reading that alone keeps another end off the list, where that end explains all the proof as well.
 * A cord that reads open through a burnt block reads as a burnt block does; the look that cleared the block is worth a second one.
 */
export function rivalled(
  p: Prepared,
  f: CaseFacts,
  weighed: readonly Weighed[],
  allowed: ReadonlySet<string>,
): number | undefined {
  const k = p.knowledge;
  const least = limit(k, 'rival-share').lo;
  const top = weighed.find((w) => w.live && w.confirmedBy.length);
  if (!top) return undefined;
  const end = endKey(k, top.faults, true);
  const rivals = weighed
    .filter((w) => w.faults.length === 1 && !w.live && w.against.length === top.against.length + 1)
    .filter((w) => w.share >= least * top.share && endKey(k, w.faults, true) !== end);
  for (const rival of rivals) {
    const seq = rival.against.find((q) => !top.against.includes(q));
    const r = f.readings.find((x) => x.seq === seq);
    const check = r?.check ? k.checks.get(r.check) : undefined;
    if (!r || !check || check.kind === 'gate' || top.confirmedBy.includes(r.seq) || !allowed.has(check.id)) continue;
    const again = r.repeats !== undefined || f.readings.some((x) => x.seq !== r.seq && placeOf(k, x) === placeOf(k, r));
    if (!again) return r.seq;
  }
  return undefined;
}

/**
 * Before a part is condemned where nothing listed fits well all that was told: the one reading that proves it, if it was taken once only.
 */
export function oddOne(
  k: Knowledge,
  f: CaseFacts,
  weighed: readonly Weighed[],
  allowed: ReadonlySet<string>,
): number | undefined {
  const most = limit(k, 'odd-share').lo;
  const top = weighed.find((w) => w.live && w.confirmedBy.length);
  const unlisted = weighed.find((w) => w.faults.length === 0)?.share ?? 0;
  if (!top || unlisted <= most) return undefined;
  const [proof, ...others] = f.readings.filter((r) => top.confirmedBy.includes(r.seq));
  if (!proof?.check || others.length || !allowed.has(proof.check)) return undefined;
  const again = proof.repeats !== undefined || f.readings.some((x) => x.seq !== proof.seq && placeOf(k, x) === placeOf(k, proof));
  return again ? undefined : proof.seq;
}
