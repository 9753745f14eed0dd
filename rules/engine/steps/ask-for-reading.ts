import { asNext } from '../as-next.ts';
import { checkStanding } from '../derive.ts';
import { type Step, thisNext } from './step.ts';

/** What a reading wants to know before it can be judged (how warm the sensor is): the rule that judged it names the check. */
export const askForReading: Step = (round) => {
  const { knowledge, told, judged, permits, says } = round;
  const wanted = judged.flatMap((j) =>
    j.asks && permits.checks.some((m) => m.check.id === j.asks) ? [knowledge.checks.get(j.asks)!] : [],
  );
  const first = wanted.find((check) => checkStanding(knowledge, told, check) === 'open');
  return first ? { ...says, ...thisNext(asNext(first, 'worth')) } : round;
};
