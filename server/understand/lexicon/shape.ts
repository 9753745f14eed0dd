import type { NumberWords } from '../numbers.ts';
import type { UnitWord } from '../units.ts';

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
  /** Absent: the words stand for every choice of that id, whatever it is asked of. */
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
/** [regular expression, what takes its place ...] */
export type Rewrite = string[];
/** The small words and word forms that the code itself looks for. */
export interface Grammar {
  /** Forms of a word written "word+": every rule that fits adds its forms. */
  inflections: Rewrite[];
  /** A plural back to one: the first rule that fits. */
  singular: Rewrite[];
  /** Contractions: the first rule that fits opens the word. */
  endings: Rewrite[];
  articles: string[];
  of: string[];
  or: string[];
  /** Between the two ends of a range: "118 to 121". */
  until: string[];
  /** Words too common to name a point. */
  little: string[];
  /** Words that part one reading of a list from the next. */
  parting: string[];
  /** Negations that only strengthen one before them: "no hay nada de humo". */
  concord: string[];
  /** A word that turns the state after it round: "not running". */
  denials: string[];
  /** What names a slot by its place or colour, not by what is behind it. */
  sides: string[];
  /** "a 240 unit": a kind of supply, no reading. */
  supplyThings: string[];
  theMachine: string[];
  plainYes: string[];
  plainNo: string[];
  /** Denies every line of a list. */
  plainNone: string[];
  /** Beside a number in a list: "yes, 2". */
  agreeing: string[];
  /** "you are good" judges nobody's dryer. */
  you: string[];
  /** Said in passing, these state nothing. */
  inPassing: string[];
  /** Questions that name something bad and yet ask for the good: regular expressions. */
  'not-bad-questions': string[];
}
/**
 * `clauseJoins` begin a clause; `ongoing` before a time say that it goes on; `comparing` hold it against what was;
 * `definite` before a danger say that it is there;
 * beside `adversatives` a denial is no clean one.
 */
export type ListName =
  | 'gapStops'
  | 'negators'
  | 'negationPasses'
  | 'saysNone'
  | 'hedges'
  | 'listWords'
  | 'verbs'
  | 'clauseJoins'
  | 'ongoing'
  | 'comparing'
  | 'definite'
  | 'adversatives';
/** `thenWords`: after these the word "first" speaks of time, not of a place in a list. */
export type AnswerList = 'fineWords' | 'badWords' | 'lastWords' | 'optionWords' | 'stop' | 'questionWords' | 'thenWords';
export type AnswerGroup = 'yes' | 'no' | 'sometimes' | 'both' | 'neither' | 'doubleNegative' | 'yeahNo';

/**
 * `before`, `over`: the part follows; `after`: it went before; `it`: so it did, maybe in another sentence; `bare`: right before ("the heater
 * has 240 across"); `between` and `ends` stand round it; `nothing`: no volts there; `volts`, `ohms`: the unit, said apart from the number.
 * `stops` never stand between; `joins` with one of `points`: not the part's own ends; `skip`: little words.
 */
export type AcrossWords =
  | 'before'
  | 'over'
  | 'after'
  | 'it'
  | 'bare'
  | 'between'
  | 'ends'
  | 'nothing'
  | 'volts'
  | 'ohms'
  | 'stops'
  | 'joins'
  | 'points'
  | 'skip';

/** The files of one language, as they stand in its folder. */
export interface LexiconFiles {
  answers: Record<AnswerGroup | AnswerList, string[]> & {
    ordinals: Record<string, number>;
    letters: Record<string, number>;
    predicates: Predicate[];
  };
  /** What stands around a danger and takes it away or makes it past: idioms, others' dryers, long ago, suppositions. */
  aside: Record<string, string[]>;
  askBack: Record<string, string>;
  choices: { choices: ChoiceWords[]; alike: string[][] };
  facts: { entries: Entry[]; noted: string[]; lone: Record<string, string[]> };
  families: { entries: Entry[] };
  grammar: Grammar;
  /** `names`: what one word names, where it is denied ("it was not gas"). */
  hazards: { entries: Entry[]; names: Record<string, Record<string, string>> };
  numbers: NumberWords;
  /** `parts`: what each part of parts.json is called. `across`: how people tell that the leads lay on a part's two ends. */
  points: { same: string[][]; parts: Record<string, string[]>; across: Record<AcrossWords, string[]> };
  /** Groups of phrases about readings; called r.name elsewhere. */
  readings: Record<string, string[]>;
  spelling: { rewrites: Record<string, string>; plain: string[] };
  talk: { entries: Entry[] };
  units: { units: UnitWord[] };
  words: Record<ListName, string[]> & { classes: Record<string, string[]> };
}
