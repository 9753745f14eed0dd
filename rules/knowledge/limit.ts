import { z } from 'zod';
import { basis, kebab, share, text, unit } from './words.ts';

/** A number or a range with its unit and its source. */
export const limit = z.strictObject({
  id: kebab,
  lo: z.number(),
  hi: z.number(),
  unit,
  /** absolute: lo..hi as printed. line: times the leg-to-leg volts of this case. healthy: times the healthy value of that reading. */
  of: z.enum(['absolute', 'line', 'healthy']),
  /** Over range (OL) counts as inside. */
  open: z.boolean().optional(),
  source: text,
  basis,
});
export type Limit = z.infer<typeof limit>;

/** The words for how likely a sign is, as shares. */
export const likely = z.strictObject({ always: share, usual: share, maybe: share, rare: share, never: share });
