import { z } from 'zod';
import { caseSettingsShape, noteShape, settingsShape, toldShape, unansweredShape, undoneShape } from '../../rules/index.ts';
import { TAGS } from '../languages.ts';

export {
  audienceShape as audienceSchema,
  hookupShape as hookupSchema,
  idShape as idSchema,
  LONGEST_SAID,
  machineShape as machineSchema,
  plateShape as plateSchema,
  pointsShape as pointsSchema,
  takenShape as takenSchema,
  unitShape as unitSchema,
  valueShape as valueSchema,
} from '../../rules/index.ts';

/** Longest thing written in one field of the job sheet, in characters. */
export const LONGEST_FIELD = 400;

export const unitsSchema = z.enum(['us', 'metric']);
export const languageSchema = z.enum(TAGS);

/** The settings as this program writes them: in a language it speaks, with fields no longer than it lets anybody write. */
export const settingsSchema = caseSettingsShape.extend({
  language: languageSchema.optional(),
  job: z.record(z.string().min(1).max(80), z.string().max(LONGEST_FIELD)).optional(),
});

/** One stored answer. Strict: a key nobody knows means that something else wrote the row. */
export const answerSchema = z.discriminatedUnion('act', [
  toldShape,
  unansweredShape,
  undoneShape,
  settingsShape.extend({ set: settingsSchema }),
  noteShape,
]);
