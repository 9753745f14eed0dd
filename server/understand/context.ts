import { clausesOf } from './clauses.ts';
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
  /** Clause number of each token. */
  clause: number[];
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
  const clause = clausesOf(text, lexicon.clauseJoins);
  const retractedTo = Math.max(0, ...back.map((h) => h.to));
  return { text, tokens: text.tokens, hits, groups, lexicon, sentence, clause, retractedTo };
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

/**
 * What the words around a danger make of it.
 *   plain    told as it is                   hedged   told, and not quite surely
 *   earlier  over now                        asked    told of a fear or of long ago: one short question tells
 *   denied   said not to be there            aside    an idiom, somebody else's, mended, or what might be
 */
export type Standing = 'plain' | 'hedged' | 'earlier' | 'asked' | 'denied' | 'aside';

/**
 * Only a clear denial, somebody else's or an old and mended story takes a danger away, and only in its own clause.
 * What stands before a comma without a verb of its own ("two years ago, it caught fire") belongs to the clause it opens.
 */
export function standingOf(c: Context, s: Span): Standing {
  if (groupHits(c, 'idioms').some((h) => inside(s, h))) return 'aside';
  // warm clothes when it is done are no heat out of turn
  if (groupHits(c, 'harmless').some((h) => overlaps(s, h) && s.from >= h.from - 1)) return 'aside';
  if (denied(c, s)) return 'denied';
  const colours = (name: string) => groupHits(c, name).filter((h) => coloursOf(c, h, s));
  const now = colours('stillNow').length > 0;
  if (colours('supposing').some((h) => h.from <= s.from && s.from - h.to <= 3 && h.from !== s.from)) return 'aside';
  if (colours('afraid').some((h) => h.from < s.from)) return tellsOfIt(c, s) ? 'hedged' : 'asked';
  if (!now && (colours('othersOwn').length > 0 || explained(c, s))) return 'aside';
  const past = colours('longAgo').some((h) => !ongoing(c, h) && !comparing(c, h, s));
  const over = groupHits(c, 'over').some(
    (h) => c.sentence[h.from] === c.sentence[s.from] && c.clause[h.from]! - c.clause[s.to - 1]! === 1,
  );
  const mended = past || colours('earlier').length > 0 ? settled(c, s) : mendedHere(c, s);
  if (!now && mended) return 'aside';
  if (!now && past) return 'asked';
  if (!now && (over || colours('earlier').some((h) => !inside(h, s)))) return 'earlier';
  const { hedges } = c.lexicon.data.lists;
  const around = c.tokens
    .slice(Math.max(0, s.from - 5), s.to + 3)
    .filter((_, i) => sameClause(c, Math.max(0, s.from - 5) + i, s.from));
  return around.some((t) => hedges.includes(t.text) || t.text === '?') ? 'hedged' : 'plain';
}

const sameClause = (c: Context, a: number, b: number): boolean => c.clause[a] === c.clause[b];

/** Does this aside colour the clause of the danger: said in it, or opening it? */
function coloursOf(c: Context, aside: Span, s: Span): boolean {
  const mine = c.clause[s.from]!;
  const of = c.clause[aside.from]!;
  if (of === mine || (of < mine && c.clause[aside.to - 1] === mine)) return true;
  // a danger told over two clauses is coloured in either
  if (of > mine && of <= c.clause[s.to - 1]!) return true;
  return of === mine - 1 && c.sentence[aside.from] === c.sentence[s.from] && opens(c, aside, of);
}

/**
 * "Two years ago, …": nothing but the aside and a word or two stands in its clause. Where that tells of a danger itself ("there was smoke,
 * and it is on fire"), what follows with a verb of its own is another matter.
 */
function opens(c: Context, aside: Span, clause: number): boolean {
  const { verbs } = c.lexicon.data.lists;
  const of = (n: number) =>
    c.tokens.filter((t, i) => c.clause[i] === n && t.kind !== 'mark' && (i < aside.from || i >= aside.to));
  const rest = of(clause);
  if (rest.length > 2 || rest.some((t) => verbs.includes(t.text)) || ongoing(c, aside)) return false;
  const tells = c.hits.some((h) => h.of.kind === 'hazard' && c.clause[h.from] === clause);
  return !tells || !of(clause + 1).some((t) => verbs.includes(t.text));
}

/** "Since last month it smells": it goes on. */
const ongoing = (c: Context, h: Span): boolean =>
  [h.from - 1, h.from - 2].some(
    (i) => i >= 0 && sameClause(c, i, h.from) && c.lexicon.data.lists.ongoing.includes(c.tokens[i]!.text),
  );

/** "Smells worse than it used to": what used to be is what it is held against. */
const comparing = (c: Context, h: Span, s: Span): boolean =>
  h.from >= s.to &&
  c.lexicon.data.lists.comparing.some((w) => c.tokens.slice(Math.max(s.to - 1, h.from - 3), h.from).some((t) => t.text === w));

/** Put right since: said in the same clause, or in one that follows. A repair told first does not mend what comes after it. */
const settled = (c: Context, s: Span): boolean =>
  groupHits(c, 'settled').some((h) => h.to > s.from && c.clause[h.from]! - c.clause[s.to - 1]! <= 2);
const mendedHere = (c: Context, s: Span): boolean =>
  groupHits(c, 'settled').some((h) => h.from >= s.to && c.clause[h.from]! - c.clause[s.to - 1]! <= 1);

/** What a danger came from follows within this many words: "the alarm did go on Tuesday, but that was me burning toast". */
const EXPLAINED = 8;

const explained = (c: Context, s: Span): boolean =>
  groupHits(c, 'othersOwn').some((h) => h.from >= s.to && h.from - s.to < EXPLAINED && c.sentence[h.from] === c.sentence[s.from]);

/** "Worried about the smoke coming out": a fear of what is there, not of what might be. */
const tellsOfIt = (c: Context, s: Span): boolean => c.lexicon.data.lists.definite.includes(c.tokens[s.from - 1]?.text ?? '');
