import { z } from 'zod';
import { ref } from './ref.ts';
import { text, word } from './words.ts';

const states = z.array(ref('state'));

/** What lies between two points. */
export const branch = z.strictObject({
  id: word,
  a: ref('node'),
  b: ref('node'),
  part: text,
  kind: z.enum(['lead', 'contact', 'coil', 'resistor', 'winding']),
  /** lead, contact (closed), resistor: as is. coil: share of the heater's hot ohms (1 = the whole plate coil). */
  ohm: z.number().min(0),
  /** coil only: its hot ohms = share × V²/P of the plate. */
  share: z.number().positive().optional(),
  /** States in which it conducts; absent = all. */
  closedIn: states.optional(),
  /** winding: running impedance at line frequency (real, imaginary), and the states in which it applies. */
  z_ohm: z.tuple([z.number(), z.number()]).optional(),
  acIn: states.optional(),
  /** winding seen by direct current only. */
  dcOnly: z.boolean().optional(),
  /** A sensor: its ohms follow a temperature, by one of these curves; `at`: the fact that tells that temperature, °C. */
  follows: z.strictObject({ curves: z.array(ref('curve')).min(1), at: ref('fact') }).optional(),
  /** contact the motor closes once it is up to speed: still open while it starts. */
  atSpeed: z.boolean().optional(),
  /** Factors on the ohms from part to part (a sensor over room temperature, a bias heater by maker). */
  tolerance: z.tuple([z.number().positive(), z.number().positive()]).optional(),
});
export type Branch = z.infer<typeof branch>;

/** A point leads are put on, and the covers off before it can be reached. */
export const node = z.strictObject({ id: word, name: text, covers: z.array(ref('cover')) });
