import { z } from 'zod';
import { ref } from './ref.ts';
import { factId, text } from './words.ts';

/** What readings may say of a case as a whole: a verdict rule finds it (`finds`), the other rules see it as yes or no under its id. */
export const finding = z.strictObject({
  id: factId,
  means: text,
  /** A proof's fact: told good later than the reading, the finding stands no more. */
  clearedBy: ref('fact').optional(),
});
export type Finding = z.infer<typeof finding>;
