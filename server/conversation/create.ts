import type { Knowledge } from '../../rules/types.ts';
import type { Conversation } from '../conversation-port.ts';
import { FIRST } from '../languages.ts';
import type { Understand } from './hear/listen.ts';
import { catalogueOf } from './show/catalogue.ts';
import { quickReading } from './show/reading.ts';
import { sheetOf } from './show/sheet.ts';
import { drawingOf } from './show/wiring.ts';
import { preparedMemo } from './stand/prepared.ts';
import type { Mind } from './stand/standing.ts';
import { warm } from './stand/warm.ts';
import { turns } from './turn.ts';
import { type Words, wordsBy } from './words/shapes.ts';

export interface ConversationParts {
  k: Knowledge;
  /** One language, or several, the first of the program among them. */
  words: Words | readonly Words[];
  understand: Understand;
  /** "US", "GB", ...: whose numbers a stop tells to call. Absent = words that hold anywhere. */
  region?: string | undefined;
  /** The engine's own, unless another is given. */
  consult?: Mind['consult'];
}

/** The conversation made of its parts. It keeps solved machines and the last cases as they stood, to be quick; what it says never depends on them. */
export function conversationOf({ k, words, understand, region, consult }: ConversationParts): Conversation {
  const prepared = preparedMemo(k);
  const first = wordsBy(words)(FIRST);
  const { stood, ...talk } = turns({ k, words, understand, prepared, region, consult });
  return {
    ...talk,
    sheet: async (record) => sheetOf(await stood(record), record.opened),
    drawing: async (record) => drawingOf(await stood(record)),
    // Without a case there is no language of one.
    reading: (input) => quickReading({ k, words: first, prepared }, input),
    catalogue: () => catalogueOf(k, first),
    warm: (pause) => warm(k, prepared, pause),
  };
}
