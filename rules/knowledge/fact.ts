import { z } from 'zod';
import { ref } from './ref.ts';
import { audience, basis, factId, likelyWord, text, unit, word } from './words.ts';

const byChoice = z.record(ref('choice'), likelyWord);

/** Something that can be told or read: a choice among answers, or a number with a unit. */
export const fact = z.strictObject({
  id: factId,
  kind: z.enum(['choice', 'quantity']),
  choices: z.array(word).min(2).optional(),
  unit: unit.optional(),
  /** What a parser may accept at all. Wide: plausibility is for slips of unit, verdicts are the rules' job. */
  possible: z.strictObject({ lo: z.number(), hi: z.number() }).optional(),
  /** The answers of a machine whose fault says nothing about this fact; an answer not named is `never`. */
  silent: byChoice.optional(),
  /** Family -> the same under that complaint, where the complaint itself changes it (a cold dryer blows cold). Empty = says nothing there. */
  silentIn: z.record(ref('family'), byChoice).optional(),
  /** A choice that says nothing ("unsure", "not-tried", "cannot-see"): recorded, never evidence. */
  noEvidence: z.array(ref('choice')).optional(),
  /** Choice -> attributes: only a machine that has them all can answer so; on others no fault need have it. */
  onlyOn: z.record(ref('choice'), z.array(ref('attribute')).min(1)).optional(),
  /** Choice -> why no listed fault has it, on purpose: told, it ends at "something not listed". */
  ofNoFault: z.record(ref('choice'), text).optional(),
  whoCanTell: z.array(audience).min(1),
  /** 'renewed': its choices are repair ids, done by somebody before. 'repair': its first choice told ends a round of the case; what was read before was read before the repair. Told again it is a new event. */
  event: z.enum(['repair', 'renewed']).optional(),
  /** What an answer says of the covers: those that are off now; none of them = all are on. An answer not named says nothing. */
  covers: z.record(ref('choice'), z.array(ref('cover'))).optional(),
  /** A quantity that may be read between any two points: each pair of points in each state is a reading of its own. */
  anywhere: z.boolean().optional(),
  /** Choices that say the complaint comes and goes: then a good reading clears nothing. */
  comesAndGoes: z.array(ref('choice')).min(1).optional(),
  /** Told, never asked. */
  volunteered: z.boolean().optional(),
  /** Stop facts only: what "not sure" counts as (a choice), where it counts as yes. */
  unsureIs: ref('choice').optional(),
  /** Stop facts only: the choices that are a danger. */
  danger: z.array(ref('choice')).optional(),
  /** The answers that rule gas out: of what burns, and of what is smelt. Until one is told, nobody is asked to switch anything. */
  clearsGas: z.array(ref('choice')).min(1).optional(),
  basis,
  note: text.optional(),
});
export type Fact = z.infer<typeof fact>;
