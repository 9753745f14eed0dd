import { asNext } from '../as-next.ts';
import { checkStanding } from '../derive.ts';
import type { Permitted } from '../permits.ts';
import type { Round } from '../round.ts';
import type { Step } from './step.ts';

/** What somebody put off is taken up again once nothing else is left to ask. */
export const takeUpPutOff: Step = (round) =>
  whereStuck(round, (m) => m.check.kind === 'worth' && checkStanding(round.knowledge, round.counts, m.check) === 'later');

/** Nothing is left to ask but what waits for something to be cleared: then that is read, though by itself it parts nothing. */
export const clearTheWay: Step = (round) =>
  whereStuck(
    round,
    (m) => round.permits.waitFor.has(m.check.clears ?? '') && checkStanding(round.knowledge, round.counts, m.check) === 'open',
  );

function whereStuck(round: Round, wanted: (m: Permitted) => boolean): Round {
  if (round.says.next || round.standing !== 'stuck') return round;
  const found = round.permits.checks.find(wanted);
  return found ? { ...round, says: { ...round.says, next: asNext(found.check, 'worth') } } : round;
}
