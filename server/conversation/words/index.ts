/// <reference types="vite/types/importMeta.d.ts" />
import type { Knowledge } from '../../../rules/types.ts';
import { loadWords } from './load.ts';
import type { Words } from './shapes.ts';

/** Every words file, carried inside whatever is built. A new file needs no line here. */
const files = import.meta.glob<unknown>('./en/*.json', { import: 'default', eager: true });

let kept: { k: Knowledge; words: Words } | undefined;

/** The words that come with the program, read and cross-checked once. @throws WordsError with every problem */
export function ourWords(k: Knowledge): Words {
  if (kept?.k !== k) kept = { k, words: loadWords(files, k) };
  return kept.words;
}
/** general.json alone, for tests of what does not need the rest. */
export const rawFiles = (): Record<string, unknown> => ({ ...files });
