import type { Knowledge } from '../../../rules/types.ts';
import type { Speaker } from '../words/speaker.ts';
import type { Standing } from './standing.ts';

/** All that a piece of a reply is made from. */
export interface Saying {
  k: Knowledge;
  s: Speaker;
  at: Standing;
}
