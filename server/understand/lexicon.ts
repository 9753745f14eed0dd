import answers from './lexicon/en/answers.json' with { type: 'json' };
import aside from './lexicon/en/aside.json' with { type: 'json' };
import askBack from './lexicon/en/ask-back.json' with { type: 'json' };
import choices from './lexicon/en/choices.json' with { type: 'json' };
import facts from './lexicon/en/facts.json' with { type: 'json' };
import families from './lexicon/en/families.json' with { type: 'json' };
import hazards from './lexicon/en/hazards.json' with { type: 'json' };
import language from './lexicon/en/language.json' with { type: 'json' };
import numbers from './lexicon/en/numbers.json' with { type: 'json' };
import points from './lexicon/en/points.json' with { type: 'json' };
import readings from './lexicon/en/readings.json' with { type: 'json' };
import spelling from './lexicon/en/spelling.json' with { type: 'json' };
import talk from './lexicon/en/talk.json' with { type: 'json' };
import units from './lexicon/en/units.json' with { type: 'json' };
import words from './lexicon/en/words.json' with { type: 'json' };
import type { NumberWords } from './numbers.ts';
import { compile, findAll, indexPatterns, type Match, type Pattern, type PatternIndex, vocabulary } from './patterns.ts';
import { openWord, type Text, type Token } from './tokens.ts';
import type { UnitWord } from './units.ts';

/** One thing people say, in all its wordings, with what it means and with sentences that must and must not match. */
export interface Entry {
  id: string;
  says: string[];
  family?: string;
  facts?: Record<string, string>;
  hazard?: Record<string, string>;
  /** More facts of the same hazard. */
  also?: Record<string, string>;
  talk?: string;
  of?: string;
  /** What this takes back: families, facts, or fact=value; with "?" only where the words overlap. */
  drops?: string[];
  yes: string[];
  no: string[];
}
export interface ChoiceWords {
  fact?: string;
  id?: string;
  /** The label these words also stand for. */
  also?: string;
  says: string[];
}
export interface Predicate {
  asks: string[];
  yes: string[];
  no: string[];
}
/** All of one language. A second language is a second folder with the same files. */
export interface LexiconData {
  entries: { families: Entry[]; facts: Entry[]; hazards: Entry[]; talk: Entry[] };
  /** Facts told on the way that the knowledge does not hold. */
  noted: string[];
  groups: Record<string, string[]>;
  classes: Record<string, string[]>;
  lists: Record<'gapStops' | 'negators' | 'negationPasses' | 'saysNone' | 'hedges' | 'listWords' | 'verbs', string[]>;
  choices: ChoiceWords[];
  /** What one word means that stands alone between commas: "no heat, gas, vent clean". */
  lone: Record<string, string[]>;
  /** Words that mean the same where one of them names a choice. */
  alike: string[][][];
  predicates: Predicate[];
  ordinals: Record<string, number>;
  answerWords: Record<'fineWords' | 'badWords' | 'lastWords' | 'optionWords' | 'stop' | 'questionWords', string[]>;
  numbers: NumberWords;
  units: UnitWord[];
  spelling: { rewrites: Record<string, string>; plain: string[] };
  askBack: Record<string, string>;
  /** Names of one and the same part, as words; the first stands for all. */
  samePoints: string[][][];
  other: Record<string, string[]>;
}
export type Kind = 'family' | 'fact' | 'hazard' | 'talk';
export type Said = { kind: Kind; entry: Entry } | { kind: 'group'; name: string } | { kind: 'choice'; at: number };
export interface Lexicon {
  data: LexiconData;
  index: PatternIndex<Said>;
  gapStops: ReadonlySet<string>;
  vocabulary: ReadonlySet<string>;
  byFirst: Map<string, string[]>;
  noted: ReadonlySet<string>;
  families: ReadonlySet<string>;
}

const ANSWER_GROUPS = ['yes', 'no', 'sometimes', 'both', 'neither', 'doubleNegative', 'yeahNo'] as const;

const english: LexiconData = {
  entries: {
    families: families.entries as unknown as Entry[],
    facts: facts.entries as unknown as Entry[],
    hazards: hazards.entries as unknown as Entry[],
    talk: talk.entries as Entry[],
  },
  noted: facts.noted,
  lone: facts.lone,
  groups: {
    ...Object.fromEntries(ANSWER_GROUPS.map((g) => [g, answers[g]])),
    ...aside,
    ...Object.fromEntries(Object.entries(readings).map(([k, v]) => [`r.${k}`, v])),
  },
  classes: words.classes,
  lists: words,
  choices: choices.choices,
  alike: choices.alike.map((set) => set.map((name) => name.split(' '))),
  predicates: answers.predicates,
  ordinals: answers.ordinals,
  answerWords: answers,
  numbers,
  units: units.units as UnitWord[],
  spelling,
  askBack,
  samePoints: points.same.map((set) => set.map((name) => name.split(' '))),
  other: language.other,
};

/** Without the names every object inherits: "constructor" is a word like any other. */
const bare = <T>(o: Record<string, T>): Record<string, T> => Object.assign(Object.create(null), o);

/** @throws Error naming the phrase, when the data holds one that cannot be read: a mistake of ours, found by the tests. */
export function buildLexicon(given: LexiconData): Lexicon {
  const { numbers: n } = given;
  const data: LexiconData = {
    ...given,
    spelling: { ...given.spelling, rewrites: bare(given.spelling.rewrites) },
    ordinals: bare(given.ordinals),
    numbers: { ...n, small: bare(n.small), parts: bare(n.parts), fractions: bare(n.fractions), counts: bare(n.counts) },
  };
  const open = (w: string) => openWord(w, data.spelling);
  const patterns: Pattern<Said>[] = [];
  const add = (says: string[], of: Said) => {
    for (const s of says) patterns.push(compile(s.trim(), of, data.classes, open));
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
  for (const list of [data.numbers.small, data.numbers.parts, data.numbers.fractions, data.numbers.counts])
    for (const w of Object.keys(list)) vocab.add(w);
  for (const w of [...data.numbers.hundred, ...data.numbers.thousand, ...data.numbers.point, ...data.spelling.plain])
    vocab.add(w);
  const never = new Set([...data.lists.negators, ...Object.keys(data.numbers.small), ...data.spelling.plain]);
  const byFirst = new Map<string, string[]>();
  for (const w of vocab) {
    if (w.length < 5 || never.has(w) || !/^\p{L}+$/u.test(w)) continue;
    const key = w[0] ?? '';
    byFirst.set(key, [...(byFirst.get(key) ?? []), w]);
  }
  return {
    data,
    index: indexPatterns(patterns),
    gapStops: new Set(data.lists.gapStops),
    vocabulary: vocab,
    byFirst,
    noted: new Set(data.noted),
    families: new Set([...data.entries.families, ...data.entries.hazards].flatMap((e) => e.family ?? [])),
  };
}

let built: Lexicon | undefined;
/** The English lexicon, built once. */
export function englishLexicon(): Lexicon {
  built ??= buildLexicon(english);
  return built;
}

/** Forgives one slip (two in a long word) towards a word of the lexicon; never a number, never a negation, never a known word. */
export function mendSpelling(text: Text, lexicon: Lexicon): void {
  const known = new Map<string, string>();
  for (const t of text.tokens) {
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
