import { z } from 'zod';
import { VERDICTS } from '../../rules/index.ts';
import { unitSchema } from '../cases/schema.ts';

/** What a reading was held against, and how it was judged. */
export const band = z
  .strictObject({ lo: z.number(), hi: z.number(), unit: unitSchema, open: z.boolean().optional(), from: z.array(z.string()) })
  .meta({ id: 'Band', description: 'A closed range; `open`: over range (OL) lies in it too. `from`: what it was made of.' });
export const verdictWord = z.enum(VERDICTS);
export const standing = z.enum(['single', 'agreed', 'doubted']);
