import type { Language } from '../server/languages.ts';
import { isText, kept } from './kept.ts';

/** What a case can be talked in, each by its own name; a language of the server that is missing here does not compile. */
const OURS: Record<Language, string> = { en: 'English', es: 'Español' };
export const LANGUAGES = Object.entries(OURS).map(([id, name]) => ({ id: id as Language, name }));
export const isOurs = (tag: string | undefined): tag is Language => tag !== undefined && Object.hasOwn(OURS, tag);

/** The first of the reader's own languages that is one of ours, best first: ["es-MX", "en"] -> "es". */
export function ownLanguage(wanted: readonly string[] = navigator.languages ?? [navigator.language]): Language {
  return wanted.map((tag) => tag.split('-')[0]!.toLowerCase()).find(isOurs) ?? 'en';
}

/** What a new case starts in: what was picked here before, else what the browser asks for. */
export function startLanguage(): Language {
  const picked = kept('language', isText);
  return isOurs(picked) ? picked : ownLanguage();
}
