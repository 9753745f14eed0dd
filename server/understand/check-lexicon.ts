import type { Knowledge } from '../../rules/types.ts';
import { partProblems } from './across.ts';
import { builtProblems } from './built-otherwise.ts';
import { languageProblems } from './check-language.ts';
import { LISTS, type Lists, listProblems } from './check-lists.ts';
import { LANGUAGES } from './lexicon/languages.ts';
import type { LexiconFiles } from './lexicon/shape.ts';

/** Everything the lexicon names that the knowledge does not hold, at once: file, entry, field, and what would be right. */
export class LexiconError extends Error {
  readonly problems: readonly string[];
  constructor(problems: readonly string[]) {
    super(`the lexicon has ${problems.length} problems:\n${problems.map((p) => `  ${p}`).join('\n')}`);
    this.name = 'LexiconError';
    this.problems = problems;
  }
}

/**
 * Words of people that lead nowhere: a danger, fact, answer, complaint, part or state that is not in the knowledge.
 * What is noted in passing, and held by nobody, stands in the list of its own.
 */
export const lexiconProblems = (
  k: Knowledge,
  files: Readonly<Record<string, LexiconFiles>> = LANGUAGES,
  lists: Lists = LISTS,
): string[] => [
  ...Object.entries(files).flatMap(([tag, f]) => languageProblems(k, tag, f)),
  ...listProblems(k, lists),
  ...partProblems(k, lists.parts.chains, files),
  ...builtProblems(k),
];

const checked = new WeakSet<Knowledge>();
/** Holds the lexicon of every language against the knowledge, once. @throws LexiconError with every problem */
export function checkLexicon(k: Knowledge): void {
  if (checked.has(k)) return;
  const problems = lexiconProblems(k);
  if (problems.length) throw new LexiconError(problems);
  checked.add(k);
}
