import { z } from 'zod';
import { ref } from './ref.ts';
import { basis, kebab, level, text, touch, word } from './words.ts';

/** One number a check reads. Where its leads go each machine says itself, or the supply for all of them (`places`). */
const read = z.strictObject({
  fact: ref('fact'),
  /** The place it is read across, or whose one wire a clamp goes round; absent where it may be read anywhere. */
  across: ref('place').optional(),
  /** class name -> limit id, or 'healthy' = this machine's own computed healthy band. A value in none of them is `odd`. */
  classes: z.record(word, ref('limit', 'healthy')),
});
/** The same, with the places found on the machines the check fits (resolve.ts). */
export interface Measured extends Omit<z.infer<typeof read>, 'across'> {
  /** machine id (or '*') -> the two points, first the red lead. Absent machine = not read there. */
  points: Record<string, [string, string]>;
  /** amps only: machine id (or '*') -> the branch the clamp goes round. */
  branch?: Record<string, string>;
}

export const outcome = z.strictObject({
  id: kebab,
  /** Holds when every named fact's class (measured) or choice (looked at, asked) is among those listed. */
  when: z.record(ref('fact'), z.array(word).min(1)),
});
export type Outcome = z.infer<typeof outcome>;

export const check = z.strictObject({
  id: kebab,
  /** Only `worth` must be able to change the end. */
  kind: z.enum(['gate', 'worth', 'cause', 'proof']),
  fits: z.array(ref('attribute')),
  /** All facts one visit gives. */
  settles: z.array(ref('fact')).min(1),
  measure: z
    .strictObject({
      what: z.enum(['volts', 'ohms', 'amps']),
      reads: z.array(read).min(1),
      lowImpedance: z.boolean(),
      /** The lead that must come off first, by the id every machine it fits gives it. */
      lift: ref('lift').optional(),
      /** Volts under load are judged against the idle leg volts of the same case (fact id), not a fixed band. */
      scaledBy: ref('fact').optional(),
    })
    .optional(),
  /** State id, or 'any': a question needs none. */
  state: ref('state', 'any'),
  level,
  /** Covers that must be off on every machine (the tree adds what lies in front). Absent = those of the points it reads. */
  covers: z.array(ref('cover')).min(1).optional(),
  min: z.number().positive(),
  tools: z.array(text),
  /** Conditions of permit, as ids the permit rules know: "electric", "no-tingle", "supply-scale-known", "closing-allowed", ... */
  needs: z.array(ref('need')),
  /** What doing it operates. A stop may silence these; what gives or uses power is never asked after one. */
  touches: z.array(touch),
  /** The need this check can clear: asked for its sake where nothing else is left to ask. */
  clears: ref('need').optional(),
  /** A supply reading is exempt from dead-before-live. */
  supplyReading: z.boolean().optional(),
  outcomes: z.array(outcome).min(1),
  /** Outcome `outcome` confirms `fault` once every outcome under `after` was seen; a link to a check this machine lacks is dropped. `asCause`: behind a failed part it is enough alone. `alone`: the outcome is the repair itself, seen to work, and wants no second reading. A proof check passes on its first outcome. */
  confirms: z.array(
    z.strictObject({
      fault: ref('fault'),
      outcome: ref('outcome'),
      after: z.array(z.strictObject({ check: ref('check'), outcome: ref('outcome') })).optional(),
      asCause: z.boolean().optional(),
      alone: z.boolean().optional(),
    }),
  ),
  /** Gates asked as one list: choice id -> the fact answers it gives; 'none' answers all. */
  choices: z.record(kebab, z.record(ref('fact'), ref('choice'))).optional(),
  /** Choices that stand under one line until that line is picked: group id -> choice ids. */
  groups: z.record(kebab, z.array(kebab).min(2)).optional(),
  /** Not itself planned: stands for a reading between any two points, which the model may find. */
  anywhere: z.boolean().optional(),
  /** Of `choices` only one can be true: a single question that gives several answers; it has no 'none'. */
  oneOf: z.boolean().optional(),
  /** Worded cautions that stand with the check (ids in the words). */
  cautions: z.array(ref('caution')),
  basis,
  note: text.optional(),
});
/** As it stands in the file. */
export type CheckFile = z.infer<typeof check>;
type Measure = NonNullable<CheckFile['measure']>;
export interface Check extends Omit<CheckFile, 'measure' | 'covers'> {
  measure?: Omit<Measure, 'reads' | 'lift'> & {
    reads: Measured[];
    /** machine id (or '*') -> id of the lead that must come off first. */
    lift?: Record<string, string>;
  };
  /** machine id (or '*') -> covers that must be off (cover ids; the tree adds what lies in front). */
  covers: Record<string, string[]>;
}
