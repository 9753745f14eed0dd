import { asking } from '../next-check.ts';
import type { Step } from './step.ts';

/** Whoever is not led to the part is first asked what tells whom to call; a homeowner who opted in goes on with the plug out from there. */
export const askWhoIsThere: Step = (round) => {
  const { prepared, told, counts, weighed, permits, says } = round;
  if (told.audience === 'technician') return round;
  const { next, ahead } = asking(prepared, counts, weighed, permits.checks);
  return next ? { ...round, standing: 'split', says: { ...says, next, ahead } } : round;
};
