import type { Ask } from '../../types.ts';

/** A question of the talk itself, with no check behind it: one of a few answers. */
export const shortAsk = (check: string, text: string, why: string, choices: Ask['choices']): Ask => ({
  check,
  text,
  kind: 'one',
  choices,
  reads: [],
  why,
  cautions: [],
  min: SHORT_MIN,
  covers: [],
  stateWords: '',
});
/** Minutes it takes to say yes or no. */
const SHORT_MIN = 0.1;
