import { z } from 'zod';
import { ref } from './ref.ts';
import { basis, kebab, text, touch } from './words.ts';

const signs = z.array(ref('stop')).min(1).optional();
const acts = z.array(ref('act')).min(1).optional();

export const stopAnswer = z.strictObject({
  id: kebab,
  /** All that is named must be so, of each list any one. Absent = fits always. */
  when: z
    .strictObject({
      /** One of these signs stands, or one of these classes. */
      stops: signs,
      classes: z.array(ref('class')).min(1).optional(),
      /** One of these signs stands, and no other. */
      alone: signs,
      /** A danger that stands forbids one of these for good. */
      bars: z.array(touch).min(1).optional(),
      /** A sentence that is said of a stop asks for one of these acts. */
      lines: acts,
      /** One of these acts was told. */
      done: acts,
    })
    .optional(),
  /** What the answer lets somebody do: never given where that is forbidden, and with an "if" while gas is not ruled out. */
  touches: z.array(touch).min(1).optional(),
  /** Sentences of the stop that follow it, by their acts; absent or none left = its first ones. */
  then: acts,
});
export type StopAnswer = z.infer<typeof stopAnswer>;

/** A question that may be asked while a stop stands. The first answer that fits is given; the last one always fits. */
export const stopQuestion = z.strictObject({
  id: kebab,
  /** The question in plain words, for whoever edits the file. */
  asks: text,
  basis,
  answers: z.array(stopAnswer).min(1),
});
export type StopQuestion = z.infer<typeof stopQuestion>;

/** Something a person may have done already while a stop stands. */
export const stopAct = z.strictObject({
  id: kebab,
  means: text,
  /** Acts this takes back. */
  undoes: acts,
  /** Said without saying which: counts as the one of these that is asked for, where only one is. */
  oneOf: acts,
  /** Told while a danger forbids to stay near, it forbids these as well: nobody is sent back. */
  bars: z.array(touch).min(1).optional(),
});
export type StopAct = z.infer<typeof stopAct>;
