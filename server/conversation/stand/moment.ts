import type { Ask } from '../../types.ts';
import { openAsk } from './ask.ts';
import { dangerAsk } from './danger-ask.ts';
import { readBackAsk } from './read-back.ts';
import type { Saying } from './said.ts';
import type { Which } from './which.ts';

/** A case between two turns: how it stands, and every question that is open, each made once. */
export interface Moment extends Saying {
  /** What the case itself asks next; not drawn. */
  open: Ask | undefined;
  /** A correction that waits for its "yes". */
  readBack: Ask | undefined;
  /** A danger that words may have told. */
  danger: Ask | undefined;
  /** A sentence asked back, where that was in this process; else it is worked out anew from its words. */
  which?: Which;
}

export const momentOf = (x: Saying): Moment => ({
  ...x,
  open: openAsk(x),
  readBack: readBackAsk(x),
  danger: dangerAsk(x),
});

/** The question the next words are heard under. */
export const askedNow = (m: Moment): Ask | undefined => m.readBack ?? m.danger ?? m.open;
