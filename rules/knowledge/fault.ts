import { z } from 'zod';
import { ref } from './ref.ts';
import { basis, kebab, likelyWord, mayUse, priority, share, text, trade, weight } from './words.ts';

const ohms = z.number().positive();

/** One fault is one or more of these; an effect on a branch or node the machine does not have is void. */
export const effect = z.union([
  z.strictObject({ branch: ref('branch'), ohm: z.union([ohms, z.literal('open'), z.literal('closed')]) }),
  /** From, to, ohms. */
  z.strictObject({ add: z.tuple([ref('node'), ref('node'), ohms]) }),
  z.strictObject({ join: z.tuple([ref('node'), ref('node')]) }),
  /** A branch that has so many times its own ohms, whatever those are at the time (a sensor that drifted). */
  z.strictObject({ scale: z.tuple([ref('branch'), z.number().positive()]) }),
  /** A branch touches another point through so many ohms, so far of the way from its first end to its second (0 to 1). */
  z.strictObject({ touch: z.tuple([ref('branch'), share, ref('node'), ohms]) }),
  z.strictObject({ supply: ref('system') }),
  z.strictObject({ contact: ref('branch'), staysIn: z.array(ref('state')) }),
]);
export type Effect = z.infer<typeof effect>;

/** Fact -> answer -> how likely. */
const signs = z.record(ref('fact'), z.record(ref('choice'), likelyWord));

export const fault = z.strictObject({
  id: kebab,
  part: text,
  /** Machine attributes, all of which must hold; one that is not known yet keeps the fault in. */
  fits: z.array(ref('attribute')),
  /** supply ends at the receptacle face. */
  side: z.enum(['supply', 'machine', 'duct', 'use']),
  /** family -> weight on every machine that has none of its own for it. Renormalised over the faults that fit. */
  weight: z.record(ref('family'), weight),
  effects: z.array(effect),
  /** What else the same fault may come to, each a whole list of effects: where a coil touches, how a lost neutral splits the house. A reading between what two of them show fits as well; one that does nothing on a machine is void there. */
  members: z.array(z.array(effect).min(1)).min(1).optional(),
  shows: z.enum(['always', 'when-hot', 'now-and-then']),
  /** fact -> answer -> how likely; an answer not named under a named fact is `never`. */
  signs,
  /** Family -> its signs under that complaint, in place of `signs`: one fault shows in other ways when it is further gone. */
  signsIn: z.record(ref('family'), signs).optional(),
  end: z.strictObject({
    repair: ref('repair'),
    trades: z.array(trade).min(1),
    parts: z.array(text),
    mayUse,
    priority,
    visit_min: z.number().positive().optional(),
  }),
  causes: z.array(z.strictObject({ fault: ref('fault'), share })),
  basis,
  note: text.optional(),
});
/** As it stands in the file. */
export type FaultFile = z.infer<typeof fault>;
export interface Fault extends Omit<FaultFile, 'weight'> {
  /** family -> machine id or '*' -> weight. Renormalised over the faults that fit. */
  weight: Record<string, Record<string, number>>;
}
