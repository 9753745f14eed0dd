/// <reference types="vite/types/importMeta.d.ts" />
import type { Knowledge } from '../../../rules/types.ts';
import { FIRST, type Language, TAGS } from '../../languages.ts';
import { loadWords } from './load.ts';
import type { Words } from './shapes.ts';

/** Every words file, carried inside whatever is built. A new file needs no line here. */
const files = import.meta.glob<unknown>('./*/*.json', { import: 'default', eager: true });

let kept: { k: Knowledge; words: readonly Words[] } | undefined;

/** The words that come with the program, in every language, read and cross-checked once. @throws WordsError with every problem */
export function ourWords(k: Knowledge): readonly Words[] {
  if (kept?.k !== k) {
    const first = loadWords(rawFiles(FIRST), k);
    const others = TAGS.filter((tag) => tag !== FIRST).map((language) => loadWords(rawFiles(language), k, { language, first }));
    kept = { k, words: [first, ...others] };
  }
  return kept.words;
}
/** The files of one language, by their paths. */
export const rawFiles = (language: Language): Record<string, unknown> =>
  Object.fromEntries(Object.entries(files).filter(([path]) => path.startsWith(`./${language}/`)));
