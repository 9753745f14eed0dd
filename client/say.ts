import type { Language } from '../server/languages.ts';
import en from './words/en.json' with { type: 'json' };

export type WordId = keyof typeof en;
type Table = Record<WordId, string>;

/** English is in the page; any other language comes when somebody needs it. */
const OTHERS: Record<Exclude<Language, 'en'>, () => Promise<{ default: Table }>> = {
  es: () => import('./words/es.json'),
};
let spoken: Language = 'en';
let wanted: Language = 'en';
let table: Table = en;
const listeners = new Set<() => void>();

/** The page's own words in the language it is spoken in now. `{places}` are filled from `put`. */
export const word = (id: WordId, put: Record<string, string | number> = {}): string =>
  table[id].replace(/\{(\w+)\}/g, (place, name: string) => String(put[name] ?? place));

export const spokenNow = (): Language => spoken;
/** Tells when the page's language has changed. @returns how to end that */
export function onSpoken(listener: () => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}

/** Puts the whole page into a language. If its words cannot be had, the page stays as it is. */
export async function speak(language: Language): Promise<void> {
  if (language === wanted) return;
  wanted = language;
  let words: Table = en;
  try {
    if (language !== 'en') words = (await OTHERS[language]()).default;
  } catch {
    if (wanted === language) wanted = spoken;
    return;
  }
  // Asked for another one meanwhile: that one counts.
  if (wanted !== language) return;
  [table, spoken] = [words, language];
  document.documentElement.lang = language;
  for (const listener of listeners) listener();
}
