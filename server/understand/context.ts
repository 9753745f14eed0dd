import type { Hit, Lexicon } from './lexicon.ts';
import { isSentenceEnd } from './patterns.ts';
import type { Text, Token } from './tokens.ts';

/** One utterance, read once: its tokens, all phrases found, and what stands around them. */
export interface Context {
  text: Text;
  tokens: Token[];
  hits: Hit[];
  groups: Map<string, Hit[]>;
  lexicon: Lexicon;
  /** Sentence number of each token. */
  sentence: number[];
  /** Tokens before this were taken back ("just kidding"). */
  retractedTo: number;
}
export interface Span {
  from: number;
  to: number;
}

export function contextOf(text: Text, hits: Hit[], lexicon: Lexicon): Context {
  const groups = new Map<string, Hit[]>();
  for (const h of hits) {
    if (h.of.kind !== 'group') continue;
    const list = groups.get(h.of.name);
    if (list) list.push(h);
    else groups.set(h.of.name, [h]);
  }
  const sentence: number[] = [];
  let n = 0;
  for (const t of text.tokens) {
    sentence.push(n);
    if (isSentenceEnd(t)) n++;
  }
  const back = hits.filter((h) => h.of.kind === 'group' && h.of.name === 'retracts' && h.to < text.tokens.length);
  return { text, tokens: text.tokens, hits, groups, lexicon, sentence, retractedTo: Math.max(0, ...back.map((h) => h.to)) };
}

const NONE: Hit[] = [];
export const groupHits = (c: Context, name: string): readonly Hit[] => c.groups.get(name) ?? NONE;
export const evidence = (c: Context, s: Span): string => {
  const [first, last] = [c.tokens[s.from], c.tokens[s.to - 1]];
  return first && last ? c.text.typed.slice(first.start, last.end) : '';
};
export const overlaps = (a: Span, b: Span): boolean => a.from < b.to && b.from < a.to;
export const inside = (a: Span, b: Span): boolean => a.from >= b.from && a.to <= b.to;

/** "no smoke", "I don't see any smoke or flames", "smoke: no". Only words that let a negation through may stand between. */
export function denied(c: Context, s: Span): boolean {
  const { negators, negationPasses, saysNone, verbs } = c.lexicon.data.lists;
  let commas = 0;
  let turned = 0;
  for (let i = s.from - 1; i >= 0 && s.from - i < 14; i--) {
    const t = c.tokens[i];
    if (!t) break;
    if (t.kind === 'mark') {
      if (isSentenceEnd(t)) break;
      if (t.text === ',') commas++;
      continue;
    }
    if (negators.includes(t.text)) {
      turned++;
      // across a comma only within a list: "no smoke, sparks or flames"
      if (commas > 0 && !isList(c, i, s, verbs)) return false;
      const before = c.tokens[i - 1]?.text ?? '';
      if (negators.includes(before) && !c.lexicon.data.grammar.concord.includes(t.text)) turned++;
      return turned % 2 === 1;
    }
    if (!negationPasses.includes(t.text)) break;
  }
  let k = s.to;
  while ([':', '-', '=', ','].includes(c.tokens[k]?.text ?? '') && c.tokens[k]?.text !== ',') k++;
  const next = c.tokens[k];
  return (
    next !== undefined &&
    saysNone.includes(next.text) &&
    // "smoke, no?" asks for agreement
    (c.tokens[k + 1] === undefined || (c.tokens[k + 1]?.kind === 'mark' && c.tokens[k + 1]?.text !== '?'))
  );
}

function isList(c: Context, from: number, s: Span, verbs: string[]): boolean {
  const between = c.tokens.slice(from + 1, s.from);
  if (between.some((t) => t.kind === 'word' && verbs.includes(t.text))) return false;
  const { listWords } = c.lexicon.data.lists;
  const near = c.tokens.slice(Math.max(0, s.from - 2), s.to + 6);
  const end = near.findIndex((t, i) => i > 2 && isSentenceEnd(t));
  return (end < 0 ? near : near.slice(0, end)).some(
    (t) => listWords.includes(t.text) && !c.lexicon.data.numbers.and.includes(t.text),
  );
}

/** "Had a spark years ago, now it doesn't heat": the now of a later clause that tells its own complaint is not that of the danger. */
function ofSomethingElse(c: Context, now: Span, s: Span): boolean {
  const between = c.tokens.slice(s.to, now.from);
  const parts = (t: Token) => t.kind === 'mark' || c.lexicon.gapStops.has(t.text);
  const clause = between.findLastIndex(parts);
  if (clause < 0) return false;
  const from = s.to + clause;
  return c.hits.some((h) => h.of.kind === 'family' && h.of.entry.hazard === undefined && h.from >= from && h.to > now.from);
}

export type Standing = 'plain' | 'hedged' | 'earlier' | 'denied' | 'aside';

/** What the words around a danger make of it. Only a clear denial, somebody else's or an old story takes it away. */
export function standingOf(c: Context, s: Span): Standing {
  if (groupHits(c, 'idioms').some((h) => inside(s, h))) return 'aside';
  // warm clothes when it is done are no heat out of turn
  if (groupHits(c, 'harmless').some((h) => overlaps(s, h) && s.from >= h.from - 1)) return 'aside';
  if (denied(c, s)) return 'denied';
  const here = c.sentence[s.from];
  const inSentence = (h: Span) => c.sentence[h.from] === here;
  const now = groupHits(c, 'stillNow').some((h) => inSentence(h) && !ofSomethingElse(c, h, s));
  const supposed = groupHits(c, 'supposing').some(
    (h) => inSentence(h) && h.from <= s.from && s.from - h.to <= 2 && h.from !== s.from,
  );
  if (supposed) return 'aside';
  const other = groupHits(c, 'othersOwn').some((h) => inSentence(h) || (h.from > s.to && h.from - s.to < 4));
  if (other && !now) return 'aside';
  if (!now && groupHits(c, 'longAgo').some(inSentence)) return 'aside';
  if (!now && groupHits(c, 'earlier').some((h) => inSentence(h) && !inside(h, s))) return 'earlier';
  const { hedges } = c.lexicon.data.lists;
  const around = c.tokens.slice(Math.max(0, s.from - 5), s.to + 3);
  return around.some((t) => hedges.includes(t.text) || t.text === '?') ? 'hedged' : 'plain';
}
