import type { Knowledge } from '../../../rules/types.ts';
import { FIRST, LANGUAGES, type Language } from '../../languages.ts';
import { leftInFirst, namesAlike } from './alike.ts';
import { borrowedWords } from './own-words.ts';
import { type Words, type WordsFile, wordsFile } from './shapes.ts';
import { wordlessIds } from './words-for-all.ts';
import { untranslated } from './words-in-another-language.ts';

/** Everything wrong with the words, at once: one sentence each, naming what, which id, and what would be right. */
export class WordsError extends Error {
  readonly problems: readonly string[];
  constructor(problems: readonly string[]) {
    super(
      `the words have ${problems.length === 1 ? 'one problem' : `${problems.length} problems`}:\n${problems.map((p) => `  ${p}`).join('\n')}`,
    );
    this.name = 'WordsError';
    this.problems = problems;
  }
}

/**
 * Puts the files of one language together and holds them against the knowledge.
 * @param files  path -> parsed JSON, in any order
 * @param other  another language than the first, and the words of the first: all that somebody may be told in it must be there,
 *        with the same {places} to put something in. Nothing is ever borrowed from the first.
 * @throws WordsError with every problem: shape, an id twice, a word missing, borrowed or left in English, two names alike, a word for nothing
 */
export function loadWords(
  files: Readonly<Record<string, unknown>>,
  k: Knowledge,
  other?: { language: Language; first: Words },
): Words {
  const problems: string[] = [];
  const words: Partial<Words> & Omit<Words, 'general'> = {
    language: other?.language ?? FIRST,
    checks: {},
    facts: {},
    faults: {},
    stops: {},
    dangers: {},
    stopAnswers: {},
    stopDone: {},
    checkNames: {},
    names: {},
  };
  for (const path of Object.keys(files).sort()) {
    const parsed = wordsFile.safeParse(files[path]);
    if (!parsed.success) {
      for (const i of parsed.error.issues) problems.push(`${path}, ${i.path.join('.') || 'the whole file'}: ${i.message}`);
      continue;
    }
    merge(path, parsed.data, words, problems);
  }
  if (!words.general) problems.push('general: no file has it; every language needs its general.json');
  if (problems.length) throw new WordsError(problems);
  const all = words as Words;
  problems.push(...wordlessIds(all, k));
  for (const key of ['checks', 'facts', 'faults', 'stops', 'dangers', 'general'] as const)
    holds(all, `${key}.json`, all[key], problems);
  problems.push(...namesAlike(all));
  if (other) problems.push(...untranslated(all, other.first, k), ...leftInFirst(all, other.first));
  else problems.push(...borrowedWords(all, k));
  if (problems.length) throw new WordsError(problems);
  return Object.freeze(all);
}

function merge(path: string, file: WordsFile, words: Partial<Words> & Omit<Words, 'general'>, problems: string[]): void {
  for (const key of ['checks', 'facts', 'faults', 'stops', 'dangers', 'stopAnswers', 'stopDone', 'checkNames', 'names'] as const)
    for (const [id, entry] of Object.entries(file[key] ?? {})) {
      if (id in words[key]) problems.push(`${path}, ${key} "${id}": stands twice; one of the two goes`);
      Object.assign(words[key], { [id]: entry });
    }
  if (!file.general) return;
  if (words.general) problems.push(`${path}, general: stands twice; one of the two goes`);
  words.general = file.general;
}

/** A text for each audience of the language, and none for others. */
function holds(words: Words, where: string, x: unknown, problems: string[]): void {
  if (x === null || typeof x !== 'object') return;
  const audiences = ['homeowner', 'agent', 'technician'].filter((a) => Object.hasOwn(x, a));
  if (audiences.length && Object.keys(x).length === audiences.length) {
    const need: readonly string[] = LANGUAGES[words.language];
    for (const a of audiences)
      if (!need.includes(a)) problems.push(`${words.language}/${where}: a ${a} is not spoken to in this language`);
    const fallsBack = audiences.includes('technician');
    for (const a of fallsBack ? [] : need)
      if (!audiences.includes(a)) problems.push(`${words.language}/${where}: has no words for a ${a}`);
    return;
  }
  for (const [id, entry] of Object.entries(x)) holds(words, `${where} "${id}"`, entry, problems);
}
