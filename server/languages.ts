import type { Audience } from '../rules/types.ts';

/**
 * Every language that is spoken, by its BCP 47 tag and folder, and who is spoken to in it. The knowledge itself is written in the
 * first; somebody who is not among the audiences of a language is spoken to in the first as well.
 */
export const LANGUAGES = {
  en: ['homeowner', 'agent', 'technician'],
  es: ['homeowner', 'agent'],
} as const satisfies Record<string, readonly Audience[]>;
export type Language = keyof typeof LANGUAGES;
export const FIRST: Language = 'en';
export const TAGS = Object.keys(LANGUAGES) as [Language, ...Language[]];

export const isLanguage = (tag: string | undefined): tag is Language => tag !== undefined && Object.hasOwn(LANGUAGES, tag);

/** The language this person is spoken to in, in a case of that language. */
export const languageFor = (language: string | undefined, audience: Audience): Language =>
  isLanguage(language) && (LANGUAGES[language] as readonly Audience[]).includes(audience) ? language : FIRST;

/** The first of ours in an Accept-Language header, best first ("es-MX, en;q=0.8" -> es); undefined = none of ours is in it. */
export function wantedIn(header: string | undefined): Language | undefined {
  const wanted = (header ?? '').split(',').map((part) => {
    const [tag = '', ...params] = part
      .trim()
      .toLowerCase()
      .split(/\s*;\s*/);
    const q = params.find((p) => p.startsWith('q='));
    return { tag: tag.split('-')[0]!, q: q === undefined ? 1 : Number(q.slice(2)) || 0 };
  });
  return wanted
    .filter(({ tag, q }) => q > 0 && isLanguage(tag))
    .sort((a, b) => b.q - a.q)
    .map(({ tag }) => tag as Language)[0];
}
