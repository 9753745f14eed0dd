import type { Knowledge, MachineInHand, Prepared } from '../../rules/types.ts';
import type { Refused } from '../conversation-port.ts';
import { checkPartWords } from '../understand/across.ts';
import { checkBuiltWords } from '../understand/built-otherwise.ts';
import type { Understand } from './hear/listen.ts';
import type { Region } from './show/stop-words.ts';
import { keptMoments } from './stand/kept.ts';
import { type Moment, momentOf } from './stand/moment.ts';
import type { Wrong } from './stand/plate.ts';
import type { Saying } from './stand/said.ts';
import type { Mind, Standing } from './stand/standing.ts';
import { type Words, wordsBy } from './words/shapes.ts';
import { speaker } from './words/speaker.ts';

export interface TurnDeps extends Region, Pick<Mind, 'consult'> {
  k: Knowledge;
  /** One language, or several; a case is spoken in its own. */
  words: Words | readonly Words[];
  understand: Understand;
  prepared: (machine: MachineInHand) => Prepared;
}

/** What every step of a turn needs beside the case. */
export interface Context extends Region {
  k: Knowledge;
  understand: Understand;
  /** A case as it stands after its answers, with the questions that are open. */
  at(record: Standing['record']): Promise<Moment>;
}

/** @throws where words about how a machine is built, or about its parts, name nothing of the knowledge */
export function contextOf({ k, words, understand, prepared, region, consult }: TurnDeps): Context {
  checkBuiltWords(k);
  checkPartWords(k);
  const spoken = wordsBy(words);
  const said = (at: Standing): Moment => momentOf({ k, at, s: speaker(spoken(at.language), k, at.facts.audience) });
  return { k, understand, region, at: keptMoments({ k, prepared, consult }, said) };
}

export const refused = (x: Saying, wrong: Wrong): Refused => ({
  problem: { code: wrong.code, message: x.s.problem(wrong.code, wrong.put), ...wrong.put },
});
