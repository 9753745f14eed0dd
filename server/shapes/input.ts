import { z } from 'zod';
import {
  audienceSchema,
  hookupSchema,
  LONGEST_FIELD,
  languageSchema,
  machineSchema,
  plateSchema,
  takenSchema,
  unitSchema,
  unitsSchema,
  valueSchema,
} from '../cases/schema.ts';
import { JOB_FIELDS } from '../conversation/show/job-fields.ts';

/** What is told the conversation. Strict: an unknown key is a spelling mistake somebody wants to hear about. */
const word = z.string().min(1).max(80);

/** A case is opened. */
export const openInput = z.strictObject({
  audience: audienceSchema,
  language: languageSchema
    .optional()
    .describe(
      'What the case is talked in; without it, the Accept-Language header, then English. A technician is spoken to in English.',
    ),
  units: unitsSchema.optional(),
  machine: machineSchema.optional(),
});
export type OpenInput = z.infer<typeof openInput>;

/** One structured answer, as a page or a program gives it instead of words. */
export const answerInput = z
  .strictObject({
    fact: word,
    /** Absent only with an act that gives none. */
    value: valueSchema.optional(),
    /** What the number was read in; absent = the fact's own unit. */
    unit: unitSchema.optional(),
    act: z.enum(['tell', 'unsure', 'declined', 'later']).optional(),
    /** The check it was asked under. */
    check: word.optional(),
    ...takenSchema.shape,
  })
  .refine((a) => (a.value === undefined) === (a.act !== undefined && a.act !== 'tell'), {
    path: ['value'],
    message: 'A value is needed, unless act is unsure, declined or later: then there is none.',
  });
export type AnswerInput = z.infer<typeof answerInput>;

/** What about a case is set while it runs. */
export const patchInput = z.strictObject({
  audience: audienceSchema.optional(),
  language: languageSchema.optional(),
  units: unitsSchema.optional(),
  machine: machineSchema.optional(),
  job: z
    .record(z.string(), z.string().max(LONGEST_FIELD))
    .refine((job) => Object.keys(job).every((id) => JOB_FIELDS.includes(id)), `Fields are: ${JOB_FIELDS.join(', ')}.`)
    .optional()
    .describe('What is written on the job sheet, field by field. An empty text clears a field.'),
  qualified: z.boolean().optional().describe('A technician states that they are qualified and permitted to take live readings.'),
});
export type PatchInput = z.infer<typeof patchInput>;

/** One reading to be judged without a case. Numbers in the unit given, or the fact's own. */
export const readingInput = z.strictObject({
  check: word,
  fact: word.optional().describe('Which of the check’s readings. Without it, the first.'),
  value: valueSchema.describe('A number, "open" for over range, or one of the fact’s words.'),
  unit: unitSchema.optional(),
  plate: plateSchema.optional(),
  machine: word.optional(),
  meter: word.optional(),
  hookup: hookupSchema.optional(),
  leads_ohm: z.number().nonnegative().optional(),
  lifted: z.boolean().optional(),
  lowImpedance: z.boolean().optional(),
});
export type ReadingInput = z.infer<typeof readingInput>;
