import { LANGUAGES } from './lexicon/languages.ts';
import tongues from './lexicon/tongues.json' with { type: 'json' };
import { type Lexicon, lexiconOf } from './lexicon.ts';
import { foldAccents, readText } from './tokens.ts';

/** Which language an utterance is in, where it is clearly not the one that was expected. */
export interface Tongue {
  /** BCP 47 tag. */
  tag: string;
  /** Is it one of ours? */
  supported: boolean;
}

const SCRIPTS: [RegExp, string][] = [
  [/\p{Script=Arabic}/gu, 'ar'],
  [/[\p{Script=Hiragana}\p{Script=Katakana}]/gu, 'ja'],
  [/\p{Script=Hangul}/gu, 'ko'],
  [/\p{Script=Han}/gu, 'zh'],
  [/\p{Script=Cyrillic}/gu, 'ru'],
  [/\p{Script=Hebrew}/gu, 'he'],
  [/\p{Script=Devanagari}/gu, 'hi'],
  [/\p{Script=Thai}/gu, 'th'],
  [/\p{Script=Greek}/gu, 'el'],
  [/\p{Script=Bengali}/gu, 'bn'],
  [/\p{Script=Gujarati}/gu, 'gu'],
  [/\p{Script=Gurmukhi}/gu, 'pa'],
  [/\p{Script=Ethiopic}/gu, 'am'],
];
/** A character of these says as much as a word. */
const DENSE = new Set(['zh', 'ja', 'ko']);

const fold = (words: readonly string[]): ReadonlySet<string> => new Set(words.map((w) => foldAccents(w.toLowerCase())));
const SMALL = new Map(Object.entries(tongues.words).map(([tag, words]) => [tag, fold(words)]));
const ASKS = fold(tongues.asks);
const NAMES: Record<string, string> = Object.assign(Object.create(null), tongues.names);
const GREETINGS: Record<string, string> = Object.assign(Object.create(null), tongues.greetings);
/** Of so many words of a paste the rest tells nothing new. */
const MOST_WORDS = 120;

/** Every language that is understood, by its tag. */
export const SUPPORTED: readonly string[] = Object.keys(LANGUAGES);

/**
 * The other language an utterance is in, or that it asks for; undefined where it may well be the expected one. One word is never
 * enough but a greeting or the name of a language, for "no" and "gas" are words of many.
 */
export function tongueOf(utterance: string, own: Lexicon): Tongue | undefined {
  const words = plainWords(utterance);
  const script = scriptOf(words.join(''));
  const made = (tag: string): Tongue | undefined =>
    tag === own.language ? undefined : { tag, supported: SUPPORTED.includes(tag) };
  if (script) return made(script);
  if (words.length === 0) return undefined;
  const named = words.find((w) => NAMES[w] !== undefined);
  if (named && words.length < 9) {
    const tag = NAMES[named] ?? '';
    const theirs = (w: string) =>
      SMALL.get(tag)?.has(w) === true || (SUPPORTED.includes(tag) && lexiconOf(tag).vocabulary.has(w));
    // "no se, habla español?" asks in the words of that language
    if (words.every((w) => w === named || ASKS.has(w) || theirs(w))) return made(tag);
  }
  const greeting =
    words.length < 4 ? words.map((w) => GREETINGS[w]).find((tag) => tag !== undefined && tag !== own.language) : undefined;
  if (greeting && !words.some((w) => own.vocabulary.has(w) && GREETINGS[w] === undefined)) return made(greeting);

  const distinct = [...new Set(words)].filter((w) => w.length > 1 || /[^a-z]/.test(w));
  const ours = (w: string) => own.vocabulary.has(w) || (SMALL.get(own.language)?.has(w) ?? false);
  const foreign = distinct.filter((w) => !ours(w));
  const others = SUPPORTED.filter((tag) => tag !== own.language);
  const vocabularies = new Map(others.map((tag) => [tag, lexiconOf(tag).vocabulary]));
  let best: { tag: string; told: number; held: number } | undefined;
  for (const [tag, small] of SMALL) {
    if (tag === own.language) continue;
    const holds = (w: string) => small.has(w) || (vocabularies.get(tag)?.has(w) ?? false);
    const told = foreign.filter(holds).length;
    const held = distinct.filter(holds).length;
    if (!best || told > best.told || (told === best.told && held > best.held)) best = { tag, told, held };
  }
  if (!best || best.told === 0) return undefined;
  const { tag } = best;
  const theirs = (w: string): boolean => SMALL.get(tag)?.has(w) === true || vocabularies.get(tag)?.has(w) === true;
  const onlyOurs = distinct.filter((w) => ours(w) && !theirs(w)).length;
  // of one telling word all the others must be theirs too: "no calienta nada"
  if (best.told === 1 && !(distinct.length > 1 && distinct.every(theirs))) return undefined;
  return best.told > onlyOurs ? made(tag) : undefined;
}

const PLAIN = { rewrites: Object.create(null) as Record<string, string>, endings: [] };
const plainWords = (utterance: string): string[] =>
  readText(utterance, PLAIN)
    .tokens.filter((t) => t.kind === 'word')
    .map((t) => t.text)
    .slice(0, MOST_WORDS);

function scriptOf(letters: string): string | undefined {
  for (const [script, tag] of SCRIPTS) {
    const n = letters.match(script)?.length ?? 0;
    if (n > 3 && n * 2 > letters.length) return tag;
    if (DENSE.has(tag) && n > 1 && (tag === 'ja' || n > 2 || n === letters.length)) return tag;
  }
  return undefined;
}
