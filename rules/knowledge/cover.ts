import { z } from 'zod';
import { ref } from './ref.ts';
import { kebab, text } from './words.ts';

export const cover = z.strictObject({
  id: kebab,
  behind: ref('cover').optional(),
  open_min: z.number().min(0),
  close_min: z.number().min(0),
  /** Nothing that uses power is done with this one off; a live reading may be, where it says so. */
  shutToRun: z.enum(['always', 'but-for-live-readings']).optional(),
  /** What is proved once it is on again and a repair was made behind it, of kind proof; every cover that must be shut to run has some. */
  closing: z.array(ref('check')).min(1).optional(),
  note: text.optional(),
});
export type Cover = z.infer<typeof cover>;
