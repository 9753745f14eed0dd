import { z } from 'zod';
import { ref } from './ref.ts';
import { kebab, text } from './words.ts';

export const family = z.strictObject({
  id: kebab,
  title: text,
  /** Checks asked first, in this order, while they can still tell something. */
  gates: z.array(ref('check')),
  /** A fact's answer that moves the talk to another family. */
  crossovers: z.array(z.strictObject({ fact: ref('fact'), is: ref('choice'), to: ref('family') })),
  /** Has no faults of its own here: recognised, made safe and referred. */
  referOnly: z.boolean().optional(),
});
export type Family = z.infer<typeof family>;
