import type { Language } from '../server/conversation/words/languages.ts';

/** What a case can be talked in; a language of the server that is missing here does not compile. */
const OURS: Record<Language, true> = { en: true, es: true };

/** The first of the reader's own languages that is one of ours, best first: ["es-MX", "en"] -> "es". */
export function ownLanguage(wanted: readonly string[] = navigator.languages ?? [navigator.language]): Language {
  const tags = wanted.map((tag) => tag.split('-')[0]!.toLowerCase());
  return (tags.find((tag) => Object.hasOwn(OURS, tag)) as Language | undefined) ?? 'en';
}
