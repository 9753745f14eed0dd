import { type PlainNoWords, plainNoWords } from './lexicon/plain-no.ts';
import { foldAccents } from './tokens.ts';

/**
 * What a whole sentence is, held against a finite list:
 *   plain   no to every line shown          people  nobody is hurt, and no more than that
 *   now     no about this moment alone      soft    looks like a no and is none
 */
export type PlainNo = 'plain' | 'people' | 'now' | 'soft';

/**
 * Is this sentence one of the closed list of a plain no, in either language? Whole, never in part, and never learned:
 * a "no" with anything more is not in it.
 * @param oneLine the question is about one danger alone, so that "it isn't" says no to it as well
 * @returns undefined for every sentence that is not in the list
 */
export function plainNo(said: string, oneLine = false): PlainNo | undefined {
  // "no?" asks back
  if (said.includes('?') || said.length > 120) return undefined;
  for (const words of plainNoWords()) {
    const is = among(listsOf(words), stripped(bare(afterMark(said, words)), words), oneLine);
    if (is) return is;
  }
  return undefined;
}

/** Every sentence of the list that clears, for the tests: the list is finite, so it is proved whole. */
export const everyPlainNo = (): string[] => plainNoWords().flatMap((w) => [...listsOf(w).plain]);

interface Lists {
  plain: ReadonlySet<string>;
  people: ReadonlySet<string>;
  now: ReadonlySet<string>;
  soft: ReadonlySet<string>;
  line: ReadonlySet<string>;
}

function among(lists: Lists, sentences: readonly string[], oneLine: boolean): PlainNo | undefined {
  const has = (set: ReadonlySet<string>) => sentences.some((s) => set.has(s));
  if (has(lists.soft)) return 'soft';
  if (has(lists.now)) return oneLine ? 'soft' : 'now';
  if (has(lists.plain)) return 'plain';
  if (oneLine && has(lists.line)) return 'plain';
  return has(lists.people) ? 'people' : undefined;
}

const kept = new WeakMap<PlainNoWords, Lists>();
function listsOf(w: PlainNoWords): Lists {
  const had = kept.get(w);
  if (had) return had;
  const fine = pairs(w.fine);
  const after = [...w.core, ...fine];
  const plain = new Set<string>();
  for (const core of w.core) for (const closer of ['', ...w.closers]) plain.add(join(core, closer));
  for (const opener of w.openers)
    for (const core of after) for (const closer of ['', ...w.closers]) plain.add(join(opener, core, closer));
  for (const s of w.soft) plain.delete(s);
  const line = new Set(pairs(w.line).flatMap((s) => ['', ...w.openers].map((o) => join(o, s))));
  const lists: Lists = {
    plain,
    people: new Set(w.people),
    now: new Set(w.now),
    soft: new Set(w.soft),
    line,
  };
  kept.set(w, lists);
  return lists;
}

const join = (...parts: string[]): string => parts.filter(Boolean).join(' ');
const pairs = ([first = [], second = []]: readonly (readonly string[])[]): string[] =>
  first.flatMap((a) => second.map((b) => join(a, b)));

/** "No, todo bien" is "no": what stands behind the mark is of the list that says all is well. */
function afterMark(said: string, w: PlainNoWords): string {
  const cut = said.search(/[,.;:!]/);
  if (cut < 0 || !w.openers.includes(bare(said.slice(0, cut)))) return said;
  return w.afterMark.includes(bare(said.slice(cut))) ? said.slice(0, cut) : said;
}

/** Lower case, no accents, no marks, one space. Line breaks part words as spaces do. */
const bare = (said: string): string =>
  foldAccents(said.toLowerCase())
    .replace(/[\u2018\u2019'`\u00B4]/g, '')
    .replace(/[.,;:!\u00A1\u00BF"\u201C\u201D()*_\u2013\u2014-]+/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

/** The sentence as it stands, and without greeting, thanks, one address and "the caller says". */
function stripped(sentence: string, w: PlainNoWords): string[] {
  let s = sentence;
  const off = (list: readonly string[], where: 'front' | 'back') => {
    for (const x of list) {
      if (where === 'front' && s.startsWith(`${x} `)) s = s.slice(x.length + 1);
      else if (where === 'back' && s.endsWith(` ${x}`)) s = s.slice(0, -x.length - 1);
    }
  };
  for (const any of plainNoWords()) off(any.greetings, 'front');
  off(pairs(w.relays), 'front');
  const out = [sentence, s];
  off(w.thanks, 'back');
  out.push(s);
  off(w.address, 'back');
  out.push(s);
  // "no ma'am, thanks": the address may stand between the no and what closes it
  for (const a of w.address) if (s.includes(` ${a} `)) out.push(s.replace(` ${a} `, ' '));
  return [...new Set(out)];
}
