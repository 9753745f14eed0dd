import { orDidYouMean } from '../../rules/index.ts';
import type { Knowledge } from '../../rules/types.ts';
import type { Meaning, Understood } from '../types.ts';
import english from './lexicon/en/built-otherwise.json' with { type: 'json' };
import { lexiconOf, mendSpelling } from './lexicon.ts';
import { compile, findAll, indexPatterns, isSentenceEnd, type Pattern, type PatternIndex } from './patterns.ts';
import { readText, type Token } from './tokens.ts';

/** How people tell that a machine is built otherwise than its drawing, by the id of the variant. */
export interface BuiltWords {
  /** `has`: built that way; `not`: it is not. Phrases as in patterns.ts. */
  variants: Record<string, { has: string[]; not: string[] }>;
  classes: Record<string, string[]>;
  /** Said before it in its sentence, these make it a doubt. */
  doubt: string[];
  /** What is said back; {title} is the variant's. */
  says: Record<Built['has'] | 'elsewhere', string>;
}
export type Built = Extract<Meaning, { is: 'built' }>;

export const BUILT_WORDS: BuiltWords = english;
const FILE = 'server/understand/lexicon/en/built-otherwise.json';

const variantsOf = (k: Knowledge) => [...k.machines.values()].flatMap((m) => m.variants ?? []);

/** Words for a variant that no drawing has, and variants without words: one sentence each, naming the file and the id. */
export function builtProblems(k: Knowledge, words: BuiltWords = BUILT_WORDS, file = FILE): string[] {
  const known = new Set(variantsOf(k).map((v) => v.id));
  const said = Object.keys(words.variants);
  return [
    ...said.filter((id) => !known.has(id)).map((id) => `${file}: no machine has a variant "${id}"${orDidYouMean(id, known)}`),
    ...[...known].filter((id) => !said.includes(id)).map((id) => `${file}: no words for the variant "${id}"`),
  ];
}
/** @throws Error with every variant that has no words, and all words for none */
export function checkBuiltWords(k: Knowledge, words: BuiltWords = BUILT_WORDS, file = FILE): void {
  const problems = builtProblems(k, words, file);
  if (problems.length) throw new Error(problems.join('\n'));
}

type Said = { variant: string; has: 'has' | 'not' } | 'doubt';
let compiled: PatternIndex<Said> | undefined;

/** Compiled once, when first heard. */
function indexed(): PatternIndex<Said> {
  if (compiled) return compiled;
  const { inflect, data } = lexiconOf('en');
  const forms = { open: (w: string) => readText(w, data.spelling).tokens.map((t) => t.text), inflect };
  const patterns: Pattern<Said>[] = [];
  const add = (says: string[], of: Said) => {
    for (const s of says) patterns.push(compile(s, of, BUILT_WORDS.classes, forms));
  };
  for (const [variant, { has, not }] of Object.entries(BUILT_WORDS.variants)) {
    add(has, { variant, has: 'has' });
    add(not, { variant, has: 'not' });
  }
  add(BUILT_WORDS.doubt, 'doubt');
  compiled = indexPatterns(patterns);
  return compiled;
}

/**
 * What an utterance tells of how the machine is built, put before all else but dangers. The same words are then no complaint, no answer
 * and no talk besides ("no heat selector" is not "no heat"). A question tells nothing.
 */
export function builtOtherwise(understood: Understood, utterance: string): Understood {
  const lexicon = lexiconOf('en');
  const text = readText(utterance, lexicon.data.spelling);
  mendSpelling(text, lexicon);
  const { tokens } = text;
  const found = findAll(tokens, indexed(), lexicon.gapStops);
  const built = new Map<string, Built>();
  for (const h of found.filter((x) => x.of !== 'doubt').sort((a, b) => a.to - a.from - (b.to - b.from))) {
    if (h.of === 'doubt') continue;
    const [from, to] = sentenceAround(tokens, h.from);
    if (tokens[to]?.text === '?') continue;
    const doubted = found.some((d) => d.of === 'doubt' && d.from >= from && d.from <= h.to && d.to <= to);
    const end = tokens[h.to - 1]?.end ?? 0;
    const evidence = utterance.slice(tokens[doubted ? from : h.from]?.start ?? 0, end);
    // Sorted: of "does not have one" and "have one" the longer is meant.
    built.set(h.of.variant, { is: 'built', variant: h.of.variant, has: doubted ? 'maybe' : h.of.has, evidence });
  }
  if (!built.size) return understood;
  const told = [...built.values()];
  const rest = understood.acts.filter((a) => a.is === 'hazard' || !told.some((b) => sharesWords(a, b.evidence, utterance)));
  const dangers = rest.filter((a) => a.is === 'hazard');
  return {
    acts: [...dangers, ...told, ...rest.filter((a) => a.is !== 'hazard')],
    left: understood.left.filter((l) => l !== utterance && l !== utterance.trim()),
  };
}

function sentenceAround(tokens: Token[], at: number): [from: number, to: number] {
  let from = at;
  while (from > 0 && !isSentenceEnd(tokens[from - 1])) from--;
  let to = at;
  while (to < tokens.length && !isSentenceEnd(tokens[to])) to++;
  return [from, to];
}

/** Do the words an act was read from lie in these, or over them? */
function sharesWords(a: Meaning, said: string, utterance: string): boolean {
  if (!('evidence' in a) || a.is === 'reading' || a.is === 'plate') return false;
  const [from, at] = [utterance.indexOf(said), utterance.indexOf(a.evidence)];
  return at >= 0 && at < from + said.length && from < at + a.evidence.length;
}

/** What a telling changes of the machine: undefined = nothing; 'elsewhere' = none of the drawings in hand can be built so. */
export function asMachine(
  k: Knowledge,
  hand: { circuits: readonly string[]; variants?: readonly string[]; maybe?: readonly string[] },
  { variant, has }: Built,
): { variants: string[]; maybe: string[] } | 'elsewhere' | undefined {
  if (!hand.circuits.some((id) => k.machines.get(id)?.variants?.some((v) => v.id === variant))) return 'elsewhere';
  const { variants = [], maybe = [] } = hand;
  const without = (list: readonly string[]) => list.filter((v) => v !== variant);
  const now = {
    variants: has === 'has' ? [...without(variants), variant] : without(variants),
    maybe: has === 'maybe' ? [...without(maybe), variant] : without(maybe),
  };
  const same = (a: readonly string[], b: readonly string[]) => [...a].sort().join() === [...b].sort().join();
  return same(now.variants, variants) && same(now.maybe, maybe) ? undefined : now;
}

/** What is said back to it. */
export function builtSaid(k: Knowledge, hand: { circuits: readonly string[] }, b: Built): string {
  const own = hand.circuits.flatMap((id) => k.machines.get(id)?.variants ?? []).find((v) => v.id === b.variant);
  return own ? BUILT_WORDS.says[b.has].replace('{title}', lowerFirst(own.title)) : BUILT_WORDS.says.elsewhere;
}
const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
