import { readdirSync, readFileSync } from 'node:fs';
import { knowledge } from '../../../../rules/index.ts';
import type { Audience } from '../../../../rules/types.ts';
import { type WordsFile, wordsFile } from '../../../../server/conversation/words/shapes.ts';

const folder = (language: string) => `server/conversation/words/${language}`;

/** The files of a language as they stand on disk, by their names. */
export const files = (language: string): [name: string, file: WordsFile][] =>
  readdirSync(folder(language)).map((name) => [
    name,
    wordsFile.parse(JSON.parse(readFileSync(`${folder(language)}/${name}`, 'utf8'))),
  ]);

export interface Text {
  /** File and id. */
  where: string;
  to: Audience;
  text: string;
}

/** Every Spanish text, as each audience gets it. What an agent reads aloud is a homeowner's. */
export function allTexts(): Text[] {
  return files('es').flatMap(([name, { $schema: _, ...file }]) => textsIn(file, name.replace('.json', '')));
}
function textsIn(x: unknown, where: string): Text[] {
  if (typeof x === 'string') return (['homeowner', 'agent'] as const).map((to) => ({ where, to, text: x }));
  if (x === null || typeof x !== 'object') return [];
  return Object.entries(x).flatMap(([id, entry]) => {
    if ((id === 'homeowner' || id === 'agent') && typeof entry === 'string') return [{ where, to: id, text: entry }];
    if (id === 'match' || id === 'id') return [];
    return textsIn(entry, `${where} ${id}`).filter((t) => id !== 'script' || t.to === 'homeowner');
  });
}

/** Words of letters, lower case. */
export const lettersIn = (text: string): string[] => text.toLowerCase().match(/\p{L}{3,}/gu) ?? [];

/** Words our English texts and the knowledge's own sentences use and our Spanish ones never do: one of them in a reply is English. */
export function englishOnly(): ReadonlySet<string> {
  const k = knowledge();
  const spanish = new Set(
    lettersIn(JSON.stringify(files('es').map(([, { $schema: _, names, ...file }]) => [file, Object.values(names ?? {})]))),
  );
  const english = [
    ...files('en').map(([, file]) => JSON.stringify(file)),
    ...[...k.stops.values()].map((s) => JSON.stringify([s.sign, s.sayNow])),
    ...[...k.families.values()].map((f) => f.title),
    ...[...k.machines.values()].map((m) => JSON.stringify([m.title, m.nodes.map((n) => n.name), m.branches.map((b) => b.part)])),
    ...[...k.faults.values()].flatMap((f) => f.end.parts),
    ...[...k.limits.values()].map((l) => l.source),
  ];
  return new Set(english.flatMap(lettersIn).filter((w) => !spanish.has(w)));
}

const VOWEL = /[aeiouáéíóúü]/;
const STRONG = /[aeoáéóíú]/;
/** Syllables of a Spanish word: each strong or accented vowel is one; a weak one beside it belongs to it. "día" has two, "agua" two. */
export function syllablesOf(word: string): number {
  if (/\d/.test(word) || !/[aeiouáéíóúüy]/i.test(word)) return 1;
  // The u of que, qui, gue and gui is silent; a y at the end is a weak vowel.
  const text = word
    .toLowerCase()
    .replace(/qu/g, 'q')
    .replace(/gu([eéií])/g, 'g$1')
    .replace(/y$/, 'i');
  let count = 0;
  for (let i = 0; i < text.length; i++) {
    const c = text[i]!;
    if (!VOWEL.test(c)) continue;
    const before = text[i - 1] ?? '';
    // It starts a syllable of its own but where it is joined to the vowel before it: not both strong.
    if (!VOWEL.test(before) || (STRONG.test(c) && STRONG.test(before))) count++;
  }
  return Math.max(1, count);
}

/** Sentences as the eye takes them in. "0.5 V" is not an end. */
export const sentences = (text: string): string[] =>
  text
    .split(/(?<=[.?!]["')]?)\s+|\n+/)
    .map((s) => s.trim())
    .filter(Boolean);
export const wordsOf = (text: string): string[] =>
  text
    .replace(/[-/]/g, ' ')
    .split(/\s+/)
    .map((w) => w.replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, ''))
    .filter(Boolean);

/**
 * Reading ease of a Spanish text: 206.84 - 0.60 P - 1.02 F, P syllables in 100 words, F words in a sentence. 70 to 80 is rather easy,
 * the sixth year of school. J. Fernández Huerta, "Medidas sencillas de lecturabilidad", Consigna 214 (1959), pp. 29-32.
 */
export function ease(said: string): number {
  const text = said.replace(/\{\w+\}/g, '911');
  const words = wordsOf(text);
  const syllables = words.reduce((sum, w) => sum + syllablesOf(w), 0);
  return 206.84 - 60 * (syllables / words.length) - 1.02 * (words.length / sentences(text).length);
}
export const median = (xs: readonly number[]): number => [...xs].sort((a, b) => a - b)[Math.floor(xs.length / 2)]!;
