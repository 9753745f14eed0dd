import { z } from 'zod';
import { basis, kebab, text } from './words.ts';

/** ±(percent of reading + counts × resolution). */
const accuracy = z.strictObject({ percent: z.number().min(0), counts: z.number().min(0), resolution: z.number().positive() });

/** Accuracy as ±(percent of reading + counts × resolution); input in Ω; leads in Ω. */
export const meter = z.strictObject({
  id: kebab,
  title: text,
  volts: accuracy,
  ohms: z.array(accuracy.extend({ upTo: z.number().positive() })).min(1),
  amps: accuracy,
  input_ohm: z.number().positive(),
  lowImpedance_ohm: z.number().positive(),
  leads_ohm: z.strictObject({ lo: z.number().min(0), hi: z.number().min(0) }),
  over_range_ohm: z.number().positive(),
  source: text,
  basis,
});
export type Meter = z.infer<typeof meter>;
