import type { Knowledge } from '../../rules/types.ts';
import { talkFileProblems } from '../../server/conversation/check-talk-files.ts';
import { ourWords } from '../../server/conversation/words/index.ts';
import { WordsError } from '../../server/conversation/words/load.ts';
import { lexiconProblems } from '../../server/understand/check-lexicon.ts';

/** Everything for which the program would not start: words missing in a language, words heard for what is not there. */
export function startProblems(k: Knowledge): string[] {
  return [...wordsProblems(k), ...lexiconProblems(k), ...talkFileProblems(k)];
}
function wordsProblems(k: Knowledge): readonly string[] {
  try {
    ourWords(k);
    return [];
  } catch (error) {
    if (error instanceof WordsError) return error.problems;
    throw error;
  }
}
