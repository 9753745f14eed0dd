import { LANGUAGES } from './lexicon/languages.ts';
import type { AnswerList, ChoiceWords, Entry, Grammar, LexiconFiles, ListName, Predicate } from './lexicon/shape.ts';
import type { NumberWords } from './numbers.ts';
import { compile, findAll, indexPatterns, type Match, type Pattern, type PatternIndex, vocabulary } from './patterns.ts';
import { openWord, type Spelling, type Text, type Token } from './tokens.ts';
import type { UnitWord } from './units.ts';

export type { Entry } from './lexicon/shape.ts';

/** All of one language, ready to be compiled. */
export interface LexiconData {
  entries: { families: Entry[]; facts: Entry[]; hazards: Entry[]; talk: Entry[] };
  /** Facts told on the way that the knowledge does not hold. */
  noted: string[];
  groups: Record<string, string[]>;
  classes: Record<string, string[]>;
  lists: Record<ListName, string[]>;
  grammar: Grammar;
  choices: ChoiceWords[];
  /** What one word means that stands alone between commas: "no heat, gas, vent clean". */
  lone: Record<string, string[]>;
  /** What the bare name of a danger stands for, where it is denied. */
  dangerNames: Record<string, Record<string, string>>;
  /** Words that mean the same where one of them names a choice. */
  alike: string[][][];
  predicates: Predicate[];
  ordinals: Record<string, number>;
  /** A lone letter that stands for a place in a list. */
  letters: Record<string, number>;
  answerWords: Record<AnswerList, string[]>;
  numbers: NumberWords;
  units: UnitWord[];
  spelling: Spelling & { plain: string[] };
  askBack: Record<string, string>;
  /** Names of one and the same part, as words; the first stands for all. */
  samePoints: string[][][];
  /** What may not stand between "across" and a part, and what joins a part to another point. */
  acrossWords: Record<'stops' | 'joins' | 'points' | 'skip', string[]>;
}
export type Kind = 'family' | 'fact' | 'hazard' | 'talk';
export type Said = { kind: Kind; entry: Entry } | { kind: 'group'; name: string } | { kind: 'choice'; at: number };
export interface Lexicon {
  /** BCP 47 tag. */
  language: string;
  data: LexiconData;
  index: PatternIndex<Said>;
  gapStops: ReadonlySet<string>;
  /** Words that begin a clause of their own. */
  clauseJoins: ReadonlySet<string>;
  vocabulary: ReadonlySet<string>;
  byFirst: Map<string, string[]>;
  /** Consonants alone -> the one word they can be; those that may be several are not there. */
  byConsonants: ReadonlyMap<string, string>;
  noted: ReadonlySet<string>;
  families: ReadonlySet<string>;
  /** A word and its other forms. */
  inflect: (word: string) => string[];
  singular: (word: string) => string;
}

const ACROSS_GROUPS = ['before', 'over', 'between', 'ends', 'after', 'it', 'bare', 'nothing', 'volts', 'ohms'] as const;
const ANSWER_GROUPS = ['yes', 'no', 'sometimes', 'both', 'neither', 'doubleNegative', 'yeahNo'] as const;

function assemble(f: LexiconFiles): LexiconData {
  const { answers, aside, askBack, choices, facts, families, grammar, hazards, numbers, points, readings } = f;
  return {
    entries: { families: families.entries, facts: facts.entries, hazards: hazards.entries, talk: f.talk.entries },
    noted: facts.noted,
    lone: facts.lone,
    dangerNames: hazards.names,
    groups: {
      ...Object.fromEntries(ANSWER_GROUPS.map((g) => [g, answers[g]])),
      ...aside,
      ...Object.fromEntries(Object.entries(readings).map(([k, v]) => [`r.${k}`, v])),
      ...Object.fromEntries(Object.entries(points.parts).map(([k, v]) => [`part.${k}`, v])),
      ...Object.fromEntries(ACROSS_GROUPS.map((k) => [`across.${k}`, points.across[k]])),
    },
    classes: f.words.classes,
    lists: f.words,
    grammar,
    choices: choices.choices,
    alike: choices.alike.map((set) => set.map((name) => name.split(' '))),
    predicates: answers.predicates,
    ordinals: answers.ordinals,
    letters: answers.letters,
    answerWords: answers,
    numbers: { ...numbers, articles: grammar.articles, of: grammar.of },
    units: f.units.units,
    spelling: { ...f.spelling, endings: grammar.endings.map(([when = '', to = '']) => [new RegExp(when, 'u'), to]) },
    askBack,
    samePoints: points.same.map((set) => set.map((name) => name.split(' '))),
    acrossWords: points.across,
  };
}

/** Without the names every object inherits: "constructor" is a word like any other. */
const bare = <T>(o: Record<string, T>): Record<string, T> => Object.assign(Object.create(null), o);

/** @throws Error naming the phrase, when the data holds one that cannot be read: a mistake of ours, found by the tests. */
export function buildLexicon(given: LexiconData, language: string): Lexicon {
  const { numbers: n } = given;
  const data: LexiconData = {
    ...given,
    spelling: { ...given.spelling, rewrites: bare(given.spelling.rewrites) },
    ordinals: bare(given.ordinals),
    letters: bare(given.letters),
    numbers: {
      ...n,
      small: bare(n.small),
      hundreds: bare(n.hundreds),
      parts: bare(n.parts),
      fractions: bare(n.fractions),
      counts: bare(n.counts),
    },
  };
  const open = (w: string) => openWord(w, data.spelling);
  const inflect = inflector(data.grammar.inflections);
  const patterns: Pattern<Said>[] = [];
  const add = (says: string[], of: Said) => {
    for (const s of says) patterns.push(compile(s.trim(), of, data.classes, { open, inflect }));
  };
  const kinds: [Kind, Entry[]][] = [
    ['family', data.entries.families],
    ['fact', data.entries.facts],
    ['hazard', data.entries.hazards],
    ['talk', data.entries.talk],
  ];
  for (const [kind, entries] of kinds) for (const entry of entries) add(entry.says, { kind, entry });
  for (const [name, says] of Object.entries(data.groups)) add(says, { kind: 'group', name });
  data.choices.forEach((c, at) => {
    add(c.says, { kind: 'choice', at });
  });
  const vocab = new Set<string>();
  vocabulary(patterns, vocab);
  for (const u of data.units) for (const s of u.says) for (const w of s.split(' ')) vocab.add(w);
  for (const list of [data.numbers.small, data.numbers.hundreds, data.numbers.parts, data.numbers.fractions, data.numbers.counts])
    for (const w of Object.keys(list)) vocab.add(w);
  for (const w of [...data.numbers.hundred, ...data.numbers.thousand, ...data.numbers.point, ...data.spelling.plain])
    vocab.add(w);
  const never = new Set([
    ...data.lists.negators,
    ...Object.keys({ ...data.numbers.small, ...data.numbers.hundreds }),
    ...data.spelling.plain,
  ]);
  const byFirst = new Map<string, string[]>();
  for (const w of vocab) {
    if (w.length < 5 || never.has(w) || !/^\p{L}+$/u.test(w)) continue;
    const key = w[0] ?? '';
    byFirst.set(key, [...(byFirst.get(key) ?? []), w]);
  }
  const byConsonants = new Map<string, string>();
  const several = new Set<string>();
  const undoubled = (w: string | undefined) => w?.replace(/(.)\1/g, '$1');
  for (const w of vocab) {
    const bones = w.length > 3 && !never.has(w) && /^[a-z]+$/.test(w) ? w[0] + w.slice(1).replace(/[aeiou]/g, '') : w;
    if (bones.length < 3 || bones === w || /[aeiou]/.test(bones)) continue;
    for (const short of new Set([bones, undoubled(bones) ?? bones])) {
      const other = byConsonants.get(short);
      if (other === undefined || other.length > w.length) byConsonants.set(short, w);
      if (other !== undefined && undoubled(other) !== undoubled(w)) several.add(short);
    }
  }
  for (const short of several) byConsonants.delete(short);
  return {
    language,
    data,
    index: indexPatterns(patterns),
    gapStops: new Set(data.lists.gapStops),
    clauseJoins: new Set(data.lists.clauseJoins),
    vocabulary: vocab,
    byFirst,
    byConsonants,
    noted: new Set(data.noted),
    families: new Set([...data.entries.families, ...data.entries.hazards].flatMap((e) => e.family ?? [])),
    inflect,
    singular: singularOf(data.grammar.singular),
  };
}

const MOST_INFLECTED = 20_000;
/** Every rule that fits gives its forms of a word. */
function inflector(rules: readonly string[][]): (word: string) => string[] {
  const read = rules.map(([when = '', ...forms]) => ({ when: new RegExp(when, 'u'), forms }));
  const known = new Map<string, string[]>();
  return (word) => {
    const had = known.get(word);
    if (had) return had;
    const forms = read.flatMap(({ when, forms }) => (when.test(word) ? forms.map((f) => word.replace(when, f)) : []));
    const made = [...new Set([word, ...forms])];
    // Words of people are without end; what is kept is not.
    if (known.size > MOST_INFLECTED) known.clear();
    known.set(word, made);
    return made;
  };
}

function singularOf(rules: readonly string[][]): (word: string) => string {
  const read = rules.map(([when = '', to = '']) => ({ when: new RegExp(when, 'u'), to }));
  return (word) => {
    const rule = read.find(({ when }) => when.test(word));
    return rule ? word.replace(rule.when, rule.to) : word;
  };
}

const built = new Map<string, Lexicon>();
/** The lexicon of one language, built once. @throws RangeError where the language is not in the table. */
export function lexiconOf(language = 'en'): Lexicon {
  const known = built.get(language);
  if (known) return known;
  const files = Object.hasOwn(LANGUAGES, language) ? LANGUAGES[language] : undefined;
  if (!files) throw new RangeError(`No lexicon for the language ${JSON.stringify(language)}`);
  const lexicon = buildLexicon(assemble(files), language);
  built.set(language, lexicon);
  return lexicon;
}

/**
 * Forgives one slip (two in a long word) towards a word of the lexicon; never a number, never a negation, never a known word.
 * Letters drawn out are drawn in ("beeeep"), and a word without its vowels is the one word it can be ("trps", "htng").
 */
export function mendSpelling(text: Text, lexicon: Lexicon): void {
  const known = new Map<string, string>();
  for (const t of text.tokens) {
    if (t.kind !== 'word' || lexicon.vocabulary.has(t.text)) continue;
    const twice = t.raw.toLowerCase().replace(/(\p{L})\1{2,}/gu, '$1$1');
    if (twice !== t.text && lexicon.vocabulary.has(twice)) {
      t.text = twice;
      continue;
    }
    const short = t.text.length > 2 && t.text.length < 8 ? lexicon.byConsonants.get(t.text) : undefined;
    if (short) {
      t.text = short;
      continue;
    }
    if (t.kind !== 'word' || t.text.length < 5 || t.text.length > 16 || lexicon.vocabulary.has(t.text)) continue;
    let best = known.get(t.text);
    if (best === undefined) {
      best = t.text;
      let count = 0;
      for (const w of lexicon.byFirst.get(t.text[0] ?? '') ?? []) {
        if (Math.abs(w.length - t.text.length) > 1 || !near(t.text, w)) continue;
        if (count++ === 0 || w.length > best.length) best = w;
      }
      known.set(t.text, best);
    }
    t.text = best;
  }
}

/** One letter too many, too few, swapped with its neighbour, or (in words of seven letters and more) wrong. */
function near(a: string, b: string): boolean {
  let i = 0;
  while (i < a.length && a[i] === b[i]) i++;
  let j = 0;
  while (j < a.length - i && j < b.length - i && a[a.length - 1 - j] === b[b.length - 1 - j]) j++;
  const [restA, restB] = [a.slice(i, a.length - j), b.slice(i, b.length - j)];
  if (restA.length + restB.length <= 1) return true;
  if (restA.length === 2 && restB.length === 2 && restA[0] === restB[1] && restA[1] === restB[0]) return true;
  return a.length >= 7 && restA.length === 1 && restB.length === 1;
}

export type Hit = Match<Said>;
export const matchAll = (tokens: Token[], lexicon: Lexicon): Hit[] => findAll(tokens, lexicon.index, lexicon.gapStops);
