import { z } from 'zod';
import { ref } from './ref.ts';
import { kebab, text } from './words.ts';

export const state = z.strictObject({
  id: kebab,
  plugged: z.boolean(),
  running: z.boolean(),
  heatCalled: z.boolean(),
  /** The contact table to use, where it is another state's. */
  contactsAs: ref('state'),
  /** Minutes to get to another state. */
  to: z.record(ref('state'), z.number().min(0)),
  what: text.optional(),
});
export type MachineState = z.infer<typeof state>;
