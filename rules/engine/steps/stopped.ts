import type { Check } from '../../types.ts';
import { asNext } from '../as-next.ts';
import { checkStanding } from '../derive.ts';
import { referByStops } from '../referral.ts';
import type { Round } from '../round.ts';
import { type Step, thisNext, toWriteOut } from './step.ts';

/** Danger first: while a stop holds, nothing is said but what to do now and who comes, and nothing asked but whether it was made safe. */
export const stopped: Step = (round) => {
  const { knowledge, says } = round;
  if (!says.stops.length) return round;
  const release = releasing(round);
  return {
    ...says,
    referral: referByStops(knowledge, says.stops, toWriteOut(round)),
    ...(release && thisNext(asNext(release, 'gate'))),
  };
};

/** A technician may say the danger was made safe; nobody else is asked, and no danger that needs help from outside is lifted so. */
function releasing({ knowledge, told, stops, permits }: Round): Check | undefined {
  if (!stops.stops.every((s) => s.standsUntil === 'made safe')) return undefined;
  const release = stops.asks
    .map((id) => knowledge.checks.get(id)!)
    .find((check) => permits.checks.some((m) => m.check.id === check.id));
  return release && checkStanding(knowledge, told, release) === 'open' ? release : undefined;
}
