import type { Ask } from '../types.ts';
import { type Context, groupHits, type Span } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import { readText, type Token } from './tokens.ts';

type Read = Ask['reads'][number];
export type Role = 'across' | 'legA' | 'legB' | 'neutral' | undefined;

/** A value said, with its place: a number, or the place where "OL" stands. */
export interface Said extends Span {
  value: number | 'open';
  /** What a physical guess may lean on; absent where nothing can be said. */
  volts?: boolean;
}
export interface Aligned<V extends Said> {
  /** The question's readings with their values, in the order asked. */
  pairs: [Read, V][];
  /** Values that could be several of the readings. */
  unsure: V[];
}

/** Values beyond these are a paste, not a list of readings. */
const MOST_VALUES = 6;
const MOST_READS = 6;
/** Words further than this from a value say nothing about it. */
const REACH = 24;
/** How much better than the next arrangement one must be, where the order says nothing. */
const NEED = 0.3;
/** More than one leg to neutral can be, less than two legs. */
const ONE_LEG_V = 160;
const ROLES = ['across', 'legA', 'legB', 'neutral'] as const;

/**
 * Which of the values belongs to which reading of the question, weighed over the whole sentence: names may stand before or after
 * their numbers, with commas inside; where nothing is named, a list as long as the question is taken in the order asked.
 * A value nothing speaks for, or that two readings could claim alike, is unsure.
 * `walls`: other values, past which no name reaches.
 */
export function align<V extends Said>(
  c: Context,
  reads: Read[],
  values: V[],
  roleOf: (fact: string) => Role,
  walls: Span[] = [],
): Aligned<V> {
  const list = [...values].sort((a, b) => a.from - b.from);
  if (list.length === 0 || list.length > MOST_VALUES || reads.length > MOST_READS) return { pairs: [], unsure: list };
  const names = namesOf(c, reads, roleOf);
  const gaps = list.map((v, i) => gapOf(c, i === 0 ? Math.max(0, v.from - REACH) : (list[i - 1]?.to ?? 0), v.from, walls));
  const end = list.at(-1)?.to ?? 0;
  gaps.push(gapOf(c, end, Math.min(c.tokens.length, end + REACH), walls));
  const score = scorer(gaps, names, list.length);
  const full = list.length === reads.length;
  const ways = arrangements(list.length, reads.length).map((to) => {
    const words = score(to);
    return { to, own: words.own, total: words.total + (full ? inOrder(to) : 0) + likely(list, to, reads, roleOf) };
  });
  ways.sort((a, b) => b.total - a.total);
  const [best, next] = ways;
  if (!best) return { pairs: [], unsure: list };
  const sure = best.total - (next?.total ?? -9) > (full ? 0.05 : NEED);
  const pairs: [Read, V][] = [];
  const unsure: V[] = [];
  list.forEach((v, i) => {
    const read = reads[best.to[i] ?? -1];
    const own = best.own[i] ?? 0;
    // against a reading's own name nothing is taken; without a name only what no other reading can be
    const taken = read && own > -0.3 && (full ? sure : own > 0.2 ? sure || clear(ways, i) : sure && list.length === 1);
    if (taken) pairs.push([read, v]);
    else unsure.push(v);
  });
  return { pairs: pairs.sort((a, b) => reads.indexOf(a[0]) - reads.indexOf(b[0])), unsure };
}

type Way = { to: number[]; total: number };
/** Is every arrangement nearly as good as the best at one about this value? */
function clear(ways: Way[], i: number): boolean {
  const [best] = ways;
  const other = ways.find((w) => w.to[i] !== best?.to[i]);
  return best !== undefined && best.total - (other?.total ?? -9) > NEED;
}

/** Each value to a reading of its own; where values are more than readings, some to none (-1). */
function arrangements(values: number, reads: number): number[][] {
  const out: number[][] = [];
  const spare = Math.max(0, values - reads);
  const go = (to: number[], left: number): void => {
    if (to.length === values) {
      out.push(to);
      return;
    }
    for (let r = 0; r < reads; r++) if (!to.includes(r)) go([...to, r], left);
    if (left > 0) go([...to, -1], left - 1);
  };
  go([], spare);
  return out;
}

/** A list is most likely told in the order asked. */
function inOrder(to: number[]): number {
  let pairs = 0;
  for (let i = 0; i < to.length; i++) for (let k = i + 1; k < to.length; k++) if ((to[i] ?? 0) < (to[k] ?? 0)) pairs++;
  return 0.1 * pairs + (to.every((r, i) => r === i) ? 0.3 : 0);
}

/** What a supply can be: leg to leg is not the small one of three, a leg is not the big one. */
function likely(list: Said[], to: number[], reads: Read[], roleOf: (fact: string) => Role): number {
  if (!list.every((v) => v.volts) || !reads.some((r) => roleOf(r.fact) === 'across')) return 0;
  const big = (v: Said) => v.value !== 'open' && v.value > ONE_LEG_V;
  const one = list.filter(big).length === 1;
  let sum = 0;
  list.forEach((v, i) => {
    const role = roleOf(reads[to[i] ?? -1]?.fact ?? '');
    if ((role === 'legA' || role === 'legB') && big(v)) sum -= one ? 1.5 : 0.3;
    if (role === 'across' && !big(v) && one) sum -= 1.5;
  });
  return sum;
}

interface Gap {
  from: number;
  to: number;
  /** Places where the words before may go to the value before and the rest to the next. */
  cuts: number[];
  /** The words before end here at the latest, those after begin here at the earliest. */
  wall: Span;
}
const PARTING = new Set([',', ';', '.', '!', '?', '|', '\n', '/', '&', '+']);

function gapOf(c: Context, from: number, to: number, walls: Span[]): Gap {
  const cuts = new Set([from, to]);
  const { parting } = c.lexicon.data.grammar;
  for (let i = from; i < to; i++) {
    const text = c.tokens[i]?.text ?? '';
    if (PARTING.has(text) || parting.includes(text)) cuts.add(i);
  }
  const inside = walls.filter((w) => w.from >= from && w.to <= to);
  const wall =
    inside.length > 0
      ? { from: Math.min(...inside.map((w) => w.from)), to: Math.max(...inside.map((w) => w.to)) }
      : { from: to, to: from };
  return { from, to, wall, cuts: [...cuts].sort((a, b) => a - b).slice(0, 12) };
}

type Names = (from: number, to: number) => number[];

/** How much the words of a stretch speak for each reading: by what only it is called, less what only others are called. */
function namesOf(c: Context, reads: Read[], roleOf: (fact: string) => Role): Names {
  const l = c.lexicon;
  const little = new Set(l.data.grammar.little);
  const text = plainWords(c.tokens, l);
  const holders = new Map<string, Set<number>>();
  reads.forEach((r, n) => {
    for (const part of [r.label, r.pointWords])
      for (const g of grams(namesIn(part, l), little)) {
        const set = holders.get(g) ?? new Set<number>();
        holders.set(g, set.add(n));
      }
  });
  const labels = reads.map((r) => namesIn(r.label, l).filter((w) => !little.has(w)));
  const roles = reads.map((r) => roleOf(r.fact));
  const hasRoles = roles.filter(Boolean).length > 1;
  const hits = hasRoles
    ? ROLES.flatMap((role) => groupHits(c, `r.${role}`).map((h) => ({ role, from: h.from, to: h.to }))).filter(
        (h, _, all) => !all.some((o) => o !== h && o.from <= h.from && o.to >= h.to && o.to - o.from > h.to - h.from),
      )
    : [];
  const memo = new Map<string, number[]>();
  return (from, to) => {
    const key = `${from}-${to}`;
    const known = memo.get(key);
    if (known) return known;
    const out = reads.map(() => 0);
    const here = text.filter((w) => w.from >= from && w.to <= to);
    for (const g of new Set(
      grams(
        here.map((w) => w.text),
        little,
      ),
    )) {
      const set = holders.get(g);
      if (!set || set.size === reads.length) continue;
      const n = g.split(' ').length;
      const weight = (n === 1 ? 0.8 : n === 2 ? 1 : 1.2) * ((reads.length - set.size) / (reads.length - 1)) ** 2;
      reads.forEach((_, i) => {
        out[i] = (out[i] ?? 0) + (set.has(i) ? weight : -0.5 * weight);
      });
    }
    // of two names that begin alike the one with less left unsaid: "coil 1" is "coil 1 to common", not "coil 1 to coil 2"
    const words = new Set(here.map((w) => w.text));
    if (out.some((n) => n > 0))
      labels.forEach((own, i) => {
        const hit = new Set(own.filter((w) => words.has(w))).size;
        out[i] = (out[i] ?? 0) + (own.length > 0 ? (2 * hit) / own.length : 0);
      });
    const said = new Set(hits.filter((h) => h.from >= from && h.to <= to).map((h) => h.role));
    if (said.has('legA') && said.has('legB')) {
      said.delete('legA');
      said.delete('legB');
      said.add('across');
    }
    // "across to neutral" names no leg pair
    if (said.size > 1) said.delete('neutral');
    for (const role of said)
      if (roles.includes(role))
        roles.forEach((r, i) => {
          out[i] = (out[i] ?? 0) + (r === role ? 2.5 : -1);
        });
    memo.set(key, out);
    return out;
  };
}

function scorer(gaps: Gap[], names: Names, values: number) {
  return (to: number[]): { total: number; own: number[] } => {
    const own = new Array<number>(values).fill(0);
    let total = 0;
    gaps.forEach((gap, i) => {
      const [before, after] = [to[i - 1], to[i]];
      let best = { left: 0, right: 0, sum: -99 };
      for (const cut of gap.cuts) {
        if (i === 0 && cut !== gap.from) continue;
        if (i === gaps.length - 1 && cut !== gap.to) continue;
        const left = before === undefined || before < 0 ? 0 : (names(gap.from, Math.min(cut, gap.wall.from))[before] ?? 0);
        const right = after === undefined || after < 0 ? 0 : (names(Math.max(cut, gap.wall.to), gap.to)[after] ?? 0);
        const inside = gap.cuts.filter((x) => x > gap.from && x < gap.to && x !== cut).length;
        const sum = left + right - 0.1 * inside;
        if (sum > best.sum) best = { left, right, sum };
      }
      total += best.sum;
      if (i > 0) own[i - 1] = (own[i - 1] ?? 0) + best.left;
      if (i < values) own[i] = (own[i] ?? 0) + best.right;
    });
    return { total, own };
  };
}

interface Plain extends Span {
  text: string;
}

/** Words and numbers without marks, plurals dropped, other names of one thing made one. */
function plainWords(tokens: Token[], { data, singular }: Lexicon): Plain[] {
  const same = data.samePoints;
  const words: Plain[] = [];
  tokens.forEach((t, i) => {
    if (t.kind === 'mark') return;
    words.push({ text: t.text.length > 3 ? singular(t.text) : t.text, from: i, to: i + 1 });
  });
  const out: Plain[] = [];
  for (let i = 0; i < words.length; ) {
    let found: { first: string[]; length: number } | undefined;
    for (const set of same)
      for (const name of set)
        if (name.length > (found?.length ?? 0) && name.every((w, n) => words[i + n]?.text === w))
          found = { first: set[0] ?? name, length: name.length };
    const [a, b] = [words[i], words[i + (found?.length ?? 1) - 1]];
    if (!a || !b) break;
    out.push({ text: found ? found.first.join('_') : a.text, from: a.from, to: b.to });
    i += found?.length ?? 1;
  }
  return out;
}

const namesIn = (part: string, l: Lexicon): string[] => plainWords(readText(part, l.data.spelling).tokens, l).map((w) => w.text);

function grams(words: string[], little: ReadonlySet<string>): string[] {
  const out: string[] = [];
  words.forEach((w, i) => {
    if (!little.has(w)) out.push(w);
    const [next, after] = [words[i + 1], words[i + 2]];
    if (next !== undefined) out.push(`${w} ${next}`);
    if (next !== undefined && after !== undefined) out.push(`${w} ${next} ${after}`);
  });
  return out;
}

/** Is this number part of a reading's name ("coil end 1 to case"), not a value? */
export function isName(c: Context, reads: Read[], at: Span): boolean {
  const word = c.tokens[at.from - 1]?.text;
  const number = c.tokens[at.from]?.text;
  if (at.to - at.from !== 1 || !word || !number || !/^[1-9]$/.test(number)) return false;
  return reads.some((r) =>
    [r.label, r.pointWords].some((part) => {
      const own = readText(part, c.lexicon.data.spelling).tokens.map((t) => t.text);
      return own.some((w, i) => w === number && own[i - 1] === word);
    }),
  );
}
