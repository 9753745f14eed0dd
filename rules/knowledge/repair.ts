import { z } from 'zod';
import { ref } from './ref.ts';
import { kebab, text } from './words.ts';

/** A repair's name in plain words, and what proves it (check ids of kind proof). Two faults with one repair need not be told apart. */
export const repair = z.strictObject({
  id: kebab,
  text,
  proofs: z.array(ref('check')).min(1),
  /** Why nobody works behind the covers that come off to find its fault. Absent = the repair is made there, and its proofs close them up. */
  notBehind: text.optional(),
});
export type Repair = z.infer<typeof repair>;
