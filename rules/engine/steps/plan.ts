import type { CaseFacts, Knowledge, NextCheck } from '../../types.ts';
import { checkStanding } from '../derive.ts';
import { looking, planned } from '../next-check.ts';
import { twoPoints } from '../two-points.ts';
import type { Step } from './step.ts';

/** The check that tells most for its minutes, or the way to prove what is left; or, where one tells more, a reading between two points already open. */
export const plan: Step = (round) => {
  const { prepared, knowledge, heard, weighed, permits, line_v, scale, twoAtOnce, says } = round;
  if (says.next || !round.toThePart) return round;
  const best = planned(knowledge, looking(prepared, heard, weighed, permits.checks, line_v, scale, twoAtOnce));
  const { standing, ahead, notToldApart } = best;
  const next = best.next && named(knowledge, round.counts, best.next);
  const shorter =
    best.next?.why === 'worth' && next?.of === undefined && !twoAtOnce
      ? twoPoints(prepared, heard, weighed, permits.checks, { next: best.next, gain: best.gain }, scale)
      : undefined;
  const found = shorter ?? next;
  return { ...round, standing, says: { ...says, ahead, notToldApart, ...(found && { next: found }) } };
};

/** A check that was done already is a reading once more: it names the first one. */
function named(k: Knowledge, f: CaseFacts, next: NextCheck): NextCheck {
  const check = k.checks.get(next.check)!;
  if (checkStanding(k, f, check) !== 'done') return next;
  const first = f.readings.find((r) => check.settles.includes(r.fact) && r.repeats === undefined);
  return first ? { ...next, of: first.seq } : next;
}
