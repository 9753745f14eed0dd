import type { Check, Consultation } from '../../types.ts';
import { asNext } from '../as-next.ts';
import { openGates, round as rounded } from '../next-check.ts';
import type { Round } from '../round.ts';
import type { Step } from './step.ts';

/** What is asked before anything else of these complaints: danger signs, fuel, kind of machine. */
export const gate: Step = (round) => {
  const gates = gatesLeft(round);
  return gates.length ? { ...round.says, ...firstOf(gates, gates[0]!) } : round;
};

/** The gates of the complaints that nobody has answered yet and this person may be asked, in order. */
export const gatesLeft = ({ knowledge, told, permits }: Round): Check[] => openGates(knowledge, told, permits.checks);

/** One of the gates now, the others after it. */
export const firstOf = (gates: readonly Check[], now: Check): Pick<Consultation, 'next' | 'ahead'> => ({
  next: asNext(now, 'gate'),
  ahead: {
    min: rounded(
      gates.reduce((sum, g) => sum + g.min, 0),
      1,
    ),
    checks: gates.length,
  },
});
