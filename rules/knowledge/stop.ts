import { z } from 'zod';
import { ref } from './ref.ts';
import { kebab, mayUse, priority, text, touch, trade, word } from './words.ts';

const acts = z.array(ref('act')).min(1);

/** One thing to do now. */
export const stopLine = z.strictObject({
  text,
  /** What doing it operates. */
  touches: z.array(touch),
  /** What is done once this is done (acts of stop-questions.json); then it need not be said again. */
  does: acts.optional(),
  /** Acts after which it is said no more: "touch nothing on the way" once everyone is out. */
  until: acts.optional(),
  /** Said instead while nobody has told whether there is a smell of gas. */
  gasUnknown: text.optional(),
  /** Said instead where a danger that holds forbids the first wording for good. */
  otherwise: text.optional(),
});
export type StopLine = z.infer<typeof stopLine>;

export const stop = z.strictObject({
  id: kebab,
  /** Lower first; all that hold are shown. */
  precedence: z.int().positive(),
  class: text,
  sign: text,
  /** Region or 'default' -> the sentences of what to do now; `touches` lets the gas rule silence one. */
  sayNow: z.record(word, z.array(stopLine).min(1)),
  thenWho: z.array(trade).min(1),
  mayUse,
  priority,
  /** What lets dead work go on: a technician's word that it was made safe, where something on site makes it so; else help from outside, or for somebody not at ease their own wish. */
  standsUntil: z.enum(['outside help', 'made safe', 'their own wish']),
  suppresses: z.array(touch),
  /** A hold: the talk goes on once the danger is out of the way (breaker off). */
  hold: z.boolean().optional(),
});
export type Stop = z.infer<typeof stop>;

/** Name in a sentence ({emergency}) -> region or 'default' -> the number or words to call. */
export const numbers = z.record(word, z.record(word, text));
