import { z } from 'zod';
import { VERDICTS } from '../../../rules/index.ts';
import type { VerdictWord } from '../../../rules/types.ts';
import type { Language } from '../../languages.ts';

/**
 * The words of the conversation, as JSON anybody can edit. Any file in words/<language> may hold any of the keys below; no id
 * may stand twice. What one file says of checks, facts, faults and stops is usually a file of its own:
 *
 *   checks.json   { "checks": { "<check id>": CheckWords } }    every check of the knowledge
 *   facts.json    { "facts":  { "<fact id>":  FactWords } }     every fact of the knowledge
 *   faults.json   { "faults": { "<fault id>": FaultWords } }    every fault of the knowledge
 *   stops.json    { "stops":  { "<stop id>":  StopWords } }     why each sign stops the talk; its own words where the knowledge's will not do
 *   dangers.json  { "dangers": { "<fact id>": Spoken } }    one short question about every fact that can tell of a danger; yes is the danger
 *   stop-answers.json { "stopAnswers": { "<question>": { "<answer>": ... } }, "stopDone": { "<act>": ... } }   stop-questions.json
 *   general.json  { "general": GeneralWords }                   all that is not about one of those
 *
 * The knowledge is written in the first language (languages.ts). Any other language needs, beside these:
 *
 *   stops.json    { "stops": { "<stop id>": { "title", "sayNow" } } }   every stop, line for line as it stands in the knowledge
 *   names.json    { "names": { "<as in the knowledge>": "..." } }       every name a reply takes from there (from-knowledge.ts)
 *   checks.json   { ..., "checkNames": { "<check id>": "..." } }        the name alone of a check only technicians are asked
 *
 * A text is one string for everybody, or { "technician": "...", "homeowner"?: "...", "agent"?: "..." }: an audience without
 * its own words is given the technician's. A language technicians are not spoken to in has { "homeowner", "agent" } instead, both of
 * them: nobody is given the words of another language. Homeowner grade 6 or below, the others 8 or below. Text is Markdown without headings.
 * "{name}" in general.json stands for what the code puts in; the texts of single items have none.
 * A missing or unknown id is a problem at load, and all of them are told at once.
 */
export const spoken = z.union([
  z.string().min(1),
  z.strictObject({ technician: z.string().min(1), homeowner: z.string().min(1).optional(), agent: z.string().min(1).optional() }),
  z.strictObject({ technician: z.undefined().optional(), homeowner: z.string().min(1), agent: z.string().min(1) }),
]);
export type Spoken = z.infer<typeof spoken>;

export const checkWords = z.strictObject({
  /** Name in a list or on a job sheet, no full stop: "Five-minute hot run". */
  name: spoken,
  /** The question, or what to do and what to tell; ends with "?" or ".". Says all that is needed to do it. */
  ask: spoken,
  /** How to do it, where `ask` alone is too short. */
  how: spoken.optional(),
  /** The same asked another way, with an example of an answer: said when the first was not understood. */
  example: spoken,
  /** Why it is worth its minutes: one sentence. */
  why: spoken,
  /** What an agent reads aloud; absent = the homeowner's `ask`. */
  script: z.string().min(1).optional(),
  /** Label of each entry of a check that has `choices` ("none" included); absent where it has none. */
  choices: z.record(z.string(), spoken).optional(),
  /** Label of each group of choices that stand under one line. */
  groups: z.record(z.string(), spoken).optional(),
});
export type CheckWords = z.infer<typeof checkWords>;

export const factWords = z.strictObject({
  /** Noun phrase, no full stop, fit for "{label}: 118.6 V": "Volts between the two legs at the outlet". */
  label: spoken,
  /** Choice facts: each choice as an answer, fit for "{label}: {choice}" and for a button: "Cold air". */
  choices: z.record(z.string(), spoken).optional(),
  /** Quantity facts, optional: where the leads go, machine id or '*' -> words. Absent = made from the names of the two points. */
  points: z.record(z.string(), spoken).optional(),
  /** Optional: what a reading of one class (by the check's `classes`, or "odd") means, one sentence each. Verdict words as keys do too. */
  means: z.record(z.string(), spoken).optional(),
});
export type FactWords = z.infer<typeof factWords>;

export const faultWords = z.strictObject({
  /** Noun phrase, lower case, no full stop, fit for "That rules out {label}": "a burnt-through heating element". */
  label: spoken,
  /** One sentence on what it is and does. */
  says: spoken.optional(),
});
export type FaultWords = z.infer<typeof faultWords>;

export const stopWords = z.strictObject({
  /** Replaces the knowledge's own words for the sign. Noun phrase. */
  title: spoken.optional(),
  /** Why it stops everything: one sentence or two. */
  why: spoken.optional(),
  /** Said after what to do now. */
  more: spoken.optional(),
  /** The knowledge's own lines in another language, region by region: as many, in the same order, with the same turns of it. */
  sayNow: z
    .record(
      z.string(),
      z.array(
        z.strictObject({
          text: z.string().min(1),
          gasUnknown: z.string().min(1).optional(),
          otherwise: z.string().min(1).optional(),
        }),
      ),
    )
    .optional(),
});
export type StopWords = z.infer<typeof stopWords>;

/** One answer to what is asked while a stop stands. {emergency}, {gasLine}, {who}, {signs} and {why} stand for what the case has. */
export const stopAnswerWords = z.strictObject({
  says: spoken,
  /** Said instead while nobody has told whether there is a smell of gas, where it lets somebody do something. */
  gasUnknown: spoken.optional(),
});
export type StopAnswerWords = z.infer<typeof stopAnswerWords>;

const byId = z.record(z.string(), spoken);
/** All that is not about one check, fact, fault or stop. Records marked "every ..." must have one entry for each, no more. */
export const generalWords = z.strictObject({
  /** Every verdict word: as shown in a row; as said of a reading; why, in one sentence. */
  verdicts: z.strictObject(
    Object.fromEntries(VERDICTS.map((v) => [v, z.strictObject({ short: spoken, says: spoken, because: spoken })])) as Record<
      VerdictWord,
      z.ZodObject<{ short: typeof spoken; says: typeof spoken; because: typeof spoken }>
    >,
  ),
  /** Every class of a measured check, fit for "if {label} {class}". */
  classes: byId,
  /** Every state, cover and caution of the knowledge. */
  states: byId,
  covers: byId,
  cautions: byId,
  /** Every trade, use, priority, kind of referral, family that is only referred. */
  trades: byId,
  mayUse: byId,
  priorities: byId,
  referrals: byId,
  conclusions: byId,
  /** Each talk reply; each problem at the door; each step of the ladder; everything else by name. */
  talk: byId,
  problems: byId,
  say: byId,
  /** The last two of a list; `before`: another word where the last begins so (lower case, the longest that fits). */
  joins: z.strictObject({ and: z.string().min(1), before: z.record(z.string(), z.string().min(1)).optional() }),
  /** Words people ask after: word -> what it is. */
  terms: byId,
  /** Things that get an answer wherever they come up, whatever else was said. `match`: words or phrases, lower case. */
  topics: z.array(z.strictObject({ id: z.string(), match: z.array(z.string().min(2)).min(1), says: spoken })),
});
export type GeneralWords = z.infer<typeof generalWords>;

export const wordsFile = z.strictObject({
  $schema: z.string().optional(),
  checks: z.record(z.string(), checkWords).optional(),
  facts: z.record(z.string(), factWords).optional(),
  faults: z.record(z.string(), faultWords).optional(),
  stops: z.record(z.string(), stopWords).optional(),
  dangers: z.record(z.string(), spoken).optional(),
  stopAnswers: z.record(z.string(), z.record(z.string(), stopAnswerWords)).optional(),
  stopDone: byId.optional(),
  checkNames: z.record(z.string(), z.string().min(1)).optional(),
  names: z.record(z.string(), z.string().min(1)).optional(),
  general: generalWords.optional(),
});
export type WordsFile = z.infer<typeof wordsFile>;

/** Words by their language. Asking for one that is not there is a mistake of ours: a case is opened in none that is not. */
export function wordsBy(words: Words | readonly Words[]): (language: Language) => Words {
  const by = new Map([words].flat().map((w) => [w.language, w]));
  return (language) => {
    const found = by.get(language);
    if (!found) throw new RangeError(`there are no words in "${language}"`);
    return found;
  };
}

export interface Words {
  language: Language;
  checks: Record<string, CheckWords>;
  facts: Record<string, FactWords>;
  faults: Record<string, FaultWords>;
  stops: Record<string, StopWords>;
  dangers: Record<string, Spoken>;
  stopAnswers: Record<string, Record<string, StopAnswerWords>>;
  stopDone: Record<string, Spoken>;
  checkNames: Record<string, string>;
  names: Record<string, string>;
  general: GeneralWords;
}
