import { syllable } from 'syllable';

/** Sentences of a text: what ends in . ? ! before a space, a closing quote or the end. "0.5 V" is not an end. */
export const sentences = (text: string): string[] =>
  text
    .split(/(?<=[.?!]["')]?)\s+|\n+/)
    .map((s) => s.trim())
    .filter(Boolean);

/** Words of a sentence. A number with its unit is two words; marks alone are none. */
export const wordsOf = (sentence: string): string[] =>
  sentence
    .replace(/[-/]/g, ' ')
    .split(/\s+/)
    .map((w) => w.replace(/^[^\p{L}\p{N}%°Ω]+|[^\p{L}\p{N}%°Ω]+$/gu, ''))
    .filter(Boolean);

const SYMBOL = /^(V|A|W|Ω|kΩ|MΩ|°C|°F|%|OL|CO|k)$/;
/** Words of ours that the counter hears wrong. */
const HEARD: Record<string, number> = { element: 3, elements: 3, scorched: 1 };
/** Numbers and unit symbols count as one syllable, as the eye takes them in. */
export const syllablesOf = (word: string): number =>
  SYMBOL.test(word) || /\d/.test(word) ? 1 : (HEARD[word.toLowerCase()] ?? Math.max(1, syllable(word)));

/** Grade of one sentence by Flesch and Kincaid; undefined under four words, where the formula says nothing. */
export function grade(sentence: string): number | undefined {
  const words = wordsOf(sentence);
  if (words.length < 4) return undefined;
  const syllables = words.reduce((sum, w) => sum + syllablesOf(w), 0);
  return 0.39 * words.length + 11.8 * (syllables / words.length) - 15.59;
}
