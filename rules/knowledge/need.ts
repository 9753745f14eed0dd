import { z } from 'zod';
import { kebab, text, touch } from './words.ts';

/** A condition of permit; a permit rule says when it is met. */
export const need = z.strictObject({ id: kebab, means: text });
/** A sentence that stands with a check; one that touches something is said only where that may be done. */
export const caution = need.extend({ touches: z.array(touch).optional() });
export type Caution = z.infer<typeof caution>;
