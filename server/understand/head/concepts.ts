import type { Context } from '../context.ts';
import en from '../lexicon/en/concepts.json' with { type: 'json' };
import es from '../lexicon/es/concepts.json' with { type: 'json' };
import type { Lexicon } from '../lexicon.ts';
import { readText } from '../tokens.ts';

/** What a word is about ("gooey" and "bubbled" are both soft with heat), where it stands, and whether a negation reaches it. */
export interface Concept {
  is: string;
  at: number;
  negated: boolean;
}
interface Entry {
  words: readonly string[];
  is: string;
}

const FILES: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = { en, es };
const kept = new Map<string, ReadonlyMap<string, Entry[]>>();

/** The words of every concept of a language, by their first word, read as people's own words are read. */
function conceptsOf(lexicon: Lexicon): ReadonlyMap<string, Entry[]> {
  const had = kept.get(lexicon.language);
  if (had) return had;
  const by = new Map<string, Entry[]>();
  for (const [is, entries] of Object.entries(FILES[lexicon.language] ?? {}))
    for (const entry of entries) {
      const words = readText(entry, lexicon.data.spelling).tokens.flatMap((t) => (t.kind === 'mark' ? [] : [t.text]));
      const first = words[0];
      if (first === undefined) continue;
      const list = by.get(first);
      if (list) list.push({ words, is });
      else by.set(first, [{ words, is }]);
    }
  kept.set(lexicon.language, by);
  return by;
}

/** How many words a negation reaches. */
const REACH = 4;

/** The concepts of an utterance in the order they stand; a word may stand for several. */
export function conceptsIn(c: Context, from = 0, to = c.tokens.length): Concept[] {
  const by = conceptsOf(c.lexicon);
  const { negators } = c.lexicon.data.lists;
  const out: Concept[] = [];
  let under = 0;
  for (let i = from; i < to; i++) {
    const t = c.tokens[i]!;
    for (const e of by.get(t.text) ?? [])
      if (e.words.every((w, n) => c.tokens[i + n]?.text === w)) out.push({ is: e.is, at: i, negated: under > 0 });
    under = negators.includes(t.text) ? REACH : c.lexicon.clauseJoins.has(t.text) ? 0 : under - 1;
  }
  return out;
}
