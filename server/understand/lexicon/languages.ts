import { files as en } from './en/index.ts';
import { files as es } from './es/index.ts';
import type { LexiconFiles } from './shape.ts';

/**
 * Every language that is understood, by its BCP 47 tag. To add one:
 * 1. Copy the folder `en` to its tag (`es`) and write every phrase, word list and example of it anew: the shape is `shape.ts`, the
 *    grammar of a phrase stands at the head of `patterns.ts`. Ids of entries, families, facts and values stay as they are, for they
 *    are the knowledge's own; `id` names the entry in the tests. Names of groups ("r.open", "yes") stay too.
 * 2. `grammar.json` holds what the code would otherwise have to know of the language: word forms, contractions, small words.
 *    Accents are dropped from every Latin word on both sides, so "tensión" and "tension" are one word and are written without.
 * 3. Its small words go into `tongues.json`, by which one language is told from another.
 * 4. Import it here. `tests/server/understand/lexicon.test.ts` then runs all examples (`yes`, `no`) of every language in this table,
 *    and fails where a file of the first language has an entry, a group or a list that the other lacks.
 */
export const LANGUAGES: Readonly<Record<string, LexiconFiles>> = { en, es };
