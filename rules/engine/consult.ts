import type { CaseFacts, Consultation, Prepared } from '../types.ts';
import { openRound, type Round } from './round.ts';
import { rounds } from './rounds.ts';
import { askForReading } from './steps/ask-for-reading.ts';
import { askWhoIsThere } from './steps/ask-who-is-there.ts';
import { beyond } from './steps/beyond.ts';
import { conclude } from './steps/conclude.ts';
import { followUp } from './steps/follow-up.ts';
import { gate } from './steps/gate.ts';
import { lookOnceMore } from './steps/look-once-more.ts';
import { clearTheWay, takeUpPutOff } from './steps/nothing-planned.ts';
import { plan } from './steps/plan.ts';
import { repeat } from './steps/repeat.ts';
import type { Step } from './steps/step.ts';
import { stopped } from './steps/stopped.ts';
import { comesAndGoes, inTalk } from './talk.ts';

/** What is looked at in a round, in this order. The first that has the last word ends it; what is behind it is not asked any more. */
const STEPS: readonly Step[] = [
  stopped,
  beyond,
  gate,
  repeat,
  askForReading,
  askWhoIsThere,
  plan,
  takeUpPutOff,
  clearTheWay,
  lookOnceMore,
  conclude,
  followUp,
];

/**
 * The whole of the reasoning for one case as it stands: stops first, then verdicts, suspects, the next check or the end, and who should come.
 * Pure: no clock, no chance, no I/O; the same machine and the same facts give the same answer. A promise only because the engine is one.
 */
export async function consult(machine: Prepared, facts: CaseFacts): Promise<Consultation> {
  const prepared = inTalk(machine, facts.families, comesAndGoes(machine.knowledge, facts));
  return rounds(prepared, facts, (counts, after) => oneRound(prepared, facts, counts, after));
}

/**
 * One round of a case: from the complaint to a repair. Everything told is judged and can stop the talk;
 * only what `counts` holds is weighed, and proofs are read from `after` the repair (undefined while there was none).
 */
async function oneRound(prepared: Prepared, told: CaseFacts, counts: CaseFacts, after?: CaseFacts): Promise<Consultation> {
  let at: Round = await openRound({ prepared, told, counts, after });
  for (const step of STEPS) {
    const came = await step(at);
    if (!('says' in came)) return came;
    at = came;
  }
  return at.says;
}
