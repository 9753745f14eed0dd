import { z } from 'zod';
import { ref } from './ref.ts';
import { basis, kebab, level, text, touch, word } from './words.ts';

export const measured = z.strictObject({
  fact: ref('fact'),
  /** machine id (or '*') -> the two points, first the red lead. Absent machine = not read there. */
  points: z.record(ref('machine', '*'), z.tuple([ref('node'), ref('node')])),
  /** amps only: machine id (or '*') -> the branch the clamp goes round. */
  branch: z.record(ref('machine', '*'), ref('branch')).optional(),
  /** class name -> limit id, or 'healthy' = this machine's own computed healthy band. A value in none of them is `odd`. */
  classes: z.record(word, ref('limit', 'healthy')),
});
export type Measured = z.infer<typeof measured>;

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
      reads: z.array(measured).min(1),
      lowImpedance: z.boolean(),
      /** machine id (or '*') -> id of the lead that must come off first. */
      lift: z.record(ref('machine', '*'), ref('lift')).optional(),
      /** Volts under load are judged against the idle leg volts of the same case (fact id), not a fixed band. */
      scaledBy: ref('fact').optional(),
    })
    .optional(),
  /** State id, or 'any': a question needs none. */
  state: ref('state', 'any'),
  level,
  /** machine id (or '*') -> covers that must be off (cover ids; the tree adds what lies in front). */
  covers: z.record(ref('machine', '*'), z.array(ref('cover'))),
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
export type Check = z.infer<typeof check>;
