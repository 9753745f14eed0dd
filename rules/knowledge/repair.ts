import { z } from 'zod';
import { ref } from './ref.ts';
import { kebab, text } from './words.ts';

/** A repair's name in plain words, and what proves it (check ids of kind proof). Two faults with one repair need not be told apart. */
export const repair = z.strictObject({ id: kebab, text, proofs: z.array(ref('check')).min(1) });
export type Repair = z.infer<typeof repair>;
