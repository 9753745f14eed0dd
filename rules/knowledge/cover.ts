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
  note: text.optional(),
});
export type Cover = z.infer<typeof cover>;
