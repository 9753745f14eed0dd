import type { Token } from './tokens.ts';

/**
 * Phrases as data. A phrase is a row of items parted by spaces:
 *   word        that word                      word+   and its inflected forms (heat+ = heat, heats, heated, heating)
 *   @class      any entry of a word class      a|b_c   either; an underscore joins words
 *   item?       may be missing                 #       a number
 *   ..          up to 2 words between          ...     up to 6 words between
 *   ^  $        start and end of what was said !a|b    not followed by;  <!a|b  not preceded by
 * No gap crosses the end of a sentence, a "but" or a negation; marks such as quotes and hyphens are looked through.
 */
type Words = string[][];
/** The same by their first word, so that only those are tried that can stand here. */
type ByFirst = Map<string, Words>;
type Item =
  | { kind: 'words'; any: Words; by: ByFirst; optional: boolean }
  | { kind: 'gap'; upTo: number }
  | { kind: 'number'; optional: boolean }
  | { kind: 'start' }
  | { kind: 'end' }
  | { kind: 'not-next'; any: Words; by: ByFirst }
  | { kind: 'not-before'; any: Words };
export interface Pattern<T> {
  says: string;
  items: Item[];
  of: T;
}
export interface Match<T> {
  of: T;
  from: number;
  to: number;
  says: string;
}
export interface PatternIndex<T> {
  byFirst: Map<string, Pattern<T>[]>;
  anywhere: Pattern<T>[];
}

/** What a language does with its words. */
export interface Forms {
  /** A word as typed -> the plain words it stands for. */
  open: (word: string) => string[];
  inflect: (word: string) => string[];
}

function wordsOf(alternatives: string, classes: Record<string, string[]>, forms: Forms): Words {
  const out: Words = [];
  for (const one of alternatives.split('|')) {
    if (one.length > 1 && one.startsWith('@')) {
      const members = classes[one.slice(1)];
      if (!members) throw new Error(`no word class ${one}`);
      for (const m of members) out.push(...wordsOf(m.replaceAll(' ', '_'), classes, forms));
      continue;
    }
    const parts = one.split('_').map((p) => (p.endsWith('+') ? forms.inflect(p.slice(0, -1)) : [p]));
    let rows: Words = [[]];
    for (const any of parts) rows = rows.flatMap((row) => any.map((f) => [...row, ...forms.open(f)]));
    out.push(...rows.map((row) => row.flatMap((w) => w.match(/\d+|\D+/g) ?? [w])));
  }
  return out;
}

function anyOf(any: Words): { any: Words; by: ByFirst } {
  const by: ByFirst = new Map();
  for (const words of any) {
    const first = words[0] ?? '';
    const list = by.get(first);
    if (list) list.push(words);
    else by.set(first, [words]);
  }
  return { any, by };
}

export function compile<T>(says: string, of: T, classes: Record<string, string[]>, forms: Forms): Pattern<T> {
  const items = says.split(/\s+/).map((raw): Item => {
    if (raw === '^') return { kind: 'start' };
    if (raw === '$') return { kind: 'end' };
    if (raw === '..') return { kind: 'gap', upTo: 2 };
    if (raw === '...') return { kind: 'gap', upTo: 6 };
    if (raw === '#' || raw === '#?') return { kind: 'number', optional: raw.endsWith('?') };
    if (raw.startsWith('<!')) return { kind: 'not-before', any: wordsOf(raw.slice(2), classes, forms) };
    if (raw.length > 1 && raw.startsWith('!')) return { kind: 'not-next', ...anyOf(wordsOf(raw.slice(1), classes, forms)) };
    const optional = raw.length > 1 && raw.endsWith('?');
    return { kind: 'words', ...anyOf(wordsOf(optional ? raw.slice(0, -1) : raw, classes, forms)), optional };
  });
  return { says, items, of };
}

export function indexPatterns<T>(patterns: Pattern<T>[]): PatternIndex<T> {
  const byFirst = new Map<string, Pattern<T>[]>();
  const anywhere: Pattern<T>[] = [];
  for (const p of patterns) {
    const firsts = firstWords(p.items);
    if (!firsts) anywhere.push(p);
    else for (const f of firsts) byFirst.set(f, [...(byFirst.get(f) ?? []), p]);
  }
  return { byFirst, anywhere };
}

function firstWords(items: Item[]): Set<string> | undefined {
  const out = new Set<string>();
  for (const item of items) {
    if (item.kind === 'start' || item.kind === 'not-before') continue;
    if (item.kind !== 'words') return undefined;
    for (const w of item.any) if (w[0]) out.add(w[0]);
    if (!item.optional) return out;
  }
  return undefined;
}

/** Every word a phrase can hold; spelling is forgiven only towards these. */
export function vocabulary<T>(patterns: Pattern<T>[], into: Set<string>): void {
  for (const p of patterns)
    for (const item of p.items) if ('any' in item) for (const words of item.any) for (const w of words) into.add(w);
}

const SENTENCE = new Set(['.', '!', '?', ';']);
const HARD = new Set(['.', '!', '?', ';', ',', ':']);
export const isSentenceEnd = (t: Token | undefined): boolean => t === undefined || (t.kind === 'mark' && SENTENCE.has(t.text));
export const isHard = (t: Token | undefined): boolean => t === undefined || (t.kind === 'mark' && HARD.has(t.text));

/** All matches, the longest per phrase and starting place. `stops`: words no gap may cross. */
export function findAll<T>(tokens: Token[], index: PatternIndex<T>, stops: ReadonlySet<string>): Match<T>[] {
  const out: Match<T>[] = [];
  for (let i = 0; i < tokens.length; i++) {
    const t = tokens[i];
    if (!t || (t.kind === 'mark' && t.text !== '?')) continue;
    const here = index.byFirst.get(t.kind === 'number' ? '#' : t.text);
    const exact = t.kind === 'number' ? index.byFirst.get(t.text) : undefined;
    for (const list of [here ?? [], exact ?? [], index.anywhere]) {
      for (const p of list) {
        const to = matchFrom(p.items, 0, tokens, i, i, stops);
        if (to > i) out.push({ of: p.of, from: i, to, says: p.says });
      }
    }
  }
  return out;
}

const soft = (t: Token | undefined): boolean => t !== undefined && t.kind === 'mark' && !HARD.has(t.text);

/** The end of the match, or -1. */
function matchFrom(items: Item[], k: number, tokens: Token[], begin: number, at: number, stops: ReadonlySet<string>): number {
  const item = items[k];
  if (!item) return at;
  const next = (to: number) => matchFrom(items, k + 1, tokens, begin, to, stops);
  let i = at;
  if (i > begin || item.kind === 'end') while (soft(tokens[i])) i++;
  switch (item.kind) {
    case 'start':
      return tokens.slice(0, at).every((t) => t.kind === 'mark') ? next(at) : -1;
    case 'end': {
      while (i < tokens.length && tokens[i]?.kind === 'mark') i++;
      return i === tokens.length ? next(at) : -1;
    }
    case 'number':
      if (tokens[i]?.kind === 'number') return next(i + 1);
      return item.optional ? next(at) : -1;
    case 'not-next':
      return longest(item.by, tokens, i).length > 0 ? -1 : next(at);
    case 'not-before': {
      let b = at - 1;
      while (soft(tokens[b])) b--;
      return item.any.some((w) => w.length <= b + 1 && w.every((x, n) => tokens[b - w.length + 1 + n]?.text === x))
        ? -1
        : next(at);
    }
    case 'gap': {
      for (let n = 0; n <= item.upTo; n++) {
        const end = next(i);
        if (end >= 0) return end;
        const t = tokens[i];
        if (isSentenceEnd(t) || !t || (t.text === ',' && item.upTo < 6) || stops.has(t.text)) return -1;
        i++;
        while (soft(tokens[i])) i++;
      }
      return -1;
    }
    case 'words': {
      for (const length of longest(item.by, tokens, i)) {
        const end = next(length);
        if (end >= 0) return end;
      }
      return item.optional ? next(at) : -1;
    }
  }
}

const NOWHERE: readonly number[] = [];
/** Ends of the alternatives that stand here, the longest first. */
function longest(by: ByFirst, tokens: Token[], at: number): readonly number[] {
  const t = tokens[at];
  const any = t && by.get(t.text);
  const number = t?.kind === 'number' ? by.get('#') : undefined;
  if (!any && !number) return NOWHERE;
  const ends: number[] = [];
  for (const words of number ? [...(any ?? []), ...number] : (any ?? [])) {
    let i = at;
    let ok = words.length > 0;
    for (const w of words) {
      while (i > at && soft(tokens[i])) i++;
      if (w === '#' ? tokens[i]?.kind !== 'number' : tokens[i]?.text !== w) {
        ok = false;
        break;
      }
      i++;
    }
    if (ok && !ends.includes(i)) ends.push(i);
  }
  return ends.sort((a, b) => b - a);
}
