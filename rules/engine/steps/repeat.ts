import { onceMore, type Step } from './step.ts';

/** A doubtful reading is taken once more before anything is built on it. */
export const repeat: Step = (round) => (round.again === undefined ? round : { ...round.says, ...onceMore(round, round.again) });
