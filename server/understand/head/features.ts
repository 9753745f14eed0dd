import type { Audience } from '../../../rules/types.ts';
import { type Context, denied, groupHits, standingOf } from '../context.ts';
import type { Token } from '../tokens.ts';
import { type Concept, conceptsIn } from './concepts.ts';

/** What stands around a danger, as far as the heads are told of it. */
const GROUPS = ['idioms', 'othersOwn', 'longAgo', 'earlier', 'stillNow', 'supposing', 'afraid', 'settled', 'harmless'] as const;
/** How far a negation reaches when nothing ends it. */
const REACH = 3;
/** Two concepts this many words apart are said of each other. */
const NEAR = 6;

/**
 * The named features of a stretch of an utterance, each at most once: words, pairs of words, words under a negation, beginnings of
 * words, concepts and pairs of them, the phrases of danger with what stands around them, and who speaks. A name says what it stands
 * for, so that a decision can be read.
 */
export function featuresOf(c: Context, audience: Audience, from = 0, to = c.tokens.length): Set<string> {
  const out = new Set<string>();
  const words = c.tokens.slice(from, to).filter((t) => t.kind !== 'mark' || t.text === '?' || t.text === '!');
  ofWords(c, words, out);
  ofConcepts(c, conceptsIn(c, from, to), out);
  const within = (h: { from: number; to: number }) => h.from >= from && h.from < to;
  for (const h of c.hits) {
    if (!within(h)) continue;
    if (h.of.kind === 'hazard') out.add(`h:${h.of.entry.id}:${standingOf(c, h)}`);
    else if (h.of.kind === 'family' && h.of.entry.family && !denied(c, h)) out.add(`f:${h.of.entry.family}`);
  }
  for (const g of GROUPS) if (groupHits(c, g).some(within)) out.add(`g:${g}`);
  if (audience === 'technician') out.add('a:technician');
  out.add(words.length < 4 ? 'l:short' : words.length > 25 ? 'l:long' : 'l:middle');
  return out;
}

function ofWords(c: Context, words: readonly Token[], out: Set<string>): void {
  const { negators } = c.lexicon.data.lists;
  let under = 0;
  words.forEach((t, i) => {
    const word = nameOf(t);
    const before = i > 0 ? nameOf(words[i - 1]!) : '^';
    out.add(`w:${word}`);
    out.add(`b:${before}_${word}`);
    if (i > 1) out.add(`s:${nameOf(words[i - 2]!)}_${word}`);
    if (i === words.length - 1) out.add(`b:${word}_$`);
    if (word.length > 5) out.add(`p:${word.slice(0, 5)}`);
    if (under > 0 && !negators.includes(word)) out.add(`n:${word}`);
    under = negators.includes(word) ? REACH : c.lexicon.clauseJoins.has(word) ? 0 : under - 1;
  });
}

function ofConcepts(c: Context, found: readonly Concept[], out: Set<string>): void {
  found.forEach((a, i) => {
    out.add(`${a.negated ? 'nk' : 'k'}:${a.is}`);
    for (let j = i + 1; j < found.length && found[j]!.at - a.at <= NEAR; j++) {
      const b = found[j]!;
      if (a.is === b.is || c.sentence[a.at] !== c.sentence[b.at]) continue;
      const [x, y] = a.is < b.is ? [a.is, b.is] : [b.is, a.is];
      out.add(`${a.negated || b.negated ? 'nkk' : 'kk'}:${x}+${y}`);
    }
  });
}

const nameOf = (t: Token): string => (t.kind === 'number' ? '#' : t.text);
