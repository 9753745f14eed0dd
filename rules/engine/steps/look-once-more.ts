import { lookAgain, oddOne, rivalled } from '../look-again.ts';
import { repeatable } from '../round.ts';
import { onceMore, type Step } from './step.ts';

/** Before the case ends, the answer that fits worst with all the others is asked once more, if a slip there is likely enough. */
export const lookOnceMore: Step = async (round) => {
  const { prepared, knowledge, heard, weighed, scale, says } = round;
  if (says.next) return round;
  const allowed = await repeatable(round, weighed);
  const slip =
    round.standing === 'confirmed'
      ? (rivalled(prepared, heard, weighed, allowed) ?? oddOne(knowledge, heard, weighed, allowed))
      : lookAgain(prepared, heard, allowed, scale);
  return slip === undefined ? round : { ...says, ...onceMore(round, slip) };
};
