import { z } from 'zod';
import {
  audienceSchema,
  hookupSchema,
  LONGEST_FIELD,
  LONGEST_SAID,
  languageSchema,
  machineSchema,
  plateSchema,
  takenSchema,
  unitSchema,
  unitsSchema,
  valueSchema,
} from '../cases/schema.ts';
import { JOB_FIELDS } from '../conversation/show/job-fields.ts';
import type { AnswerInput, OpenInput, PatchInput, ReadingInput } from '../conversation-port.ts';

/** What the API takes. Strict: an unknown key is a spelling mistake somebody wants to hear about. */
const word = z.string().min(1).max(80);
const rev = z.int().nonnegative().optional().describe('The revision this was written against. A case that moved on answers 409.');
const turn = z
  .string()
  .regex(/^[A-Za-z0-9_-]{8,64}$/)
  .optional()
  .describe('A key of your own for this turn. Sent again, the same reply comes back and nothing is added.');

export const caseParam = z.object({ id: z.string().max(200) });
export const answerParam = caseParam.extend({ seq: z.coerce.number().int().positive() });
export const demoParam = z.object({ name: z.string().max(200) });
export const explainQuery = z.object({
  explain: z.enum(['1']).optional().describe('With all that the rules make of the case.'),
});
export const sheetQuery = z.strictObject({ as: z.enum(['json', 'markdown', 'page']).optional() });

export const openBody = z.strictObject({
  audience: audienceSchema,
  language: languageSchema
    .optional()
    .describe(
      'What the case is talked in; without it, the Accept-Language header, then English. A technician is spoken to in English.',
    ),
  units: unitsSchema.optional(),
  machine: machineSchema.optional(),
}) satisfies z.ZodType<OpenInput>;

/** A case opened under an id of the caller's own making: as unguessable as ours, for it is the key to the case. */
export const ownCaseParam = z.object({
  id: z.string().regex(/^[A-Za-z0-9_-]{24,64}$/, 'At least 24 random letters of base64url.'),
});
export const openUnderBody = openBody.extend({
  opened: z.iso.datetime().optional().describe('When it was opened, if that was earlier, with no network. Never later than now.'),
});
export const turnsQuery = z.strictObject({ after: z.coerce.number().int().nonnegative().optional() });

const answerBody = z
  .strictObject({
    fact: word,
    value: valueSchema.optional(),
    unit: unitSchema.optional(),
    act: z.enum(['tell', 'unsure', 'declined', 'later']).optional(),
    check: word.optional(),
    ...takenSchema.shape,
  })
  .refine((a) => (a.value === undefined) === (a.act !== undefined && a.act !== 'tell'), {
    path: ['value'],
    message: 'A value is needed, unless act is unsure, declined or later: then there is none.',
  }) satisfies z.ZodType<AnswerInput>;

export const sayBody = z
  .strictObject({
    rev,
    turn,
    text: z
      .string()
      .regex(/\S/, 'Nothing but blanks.')
      .max(LONGEST_SAID)
      .optional()
      .describe('In your own words. Either this or `answer`.'),
    answer: answerBody.optional().describe('A structured answer. Either this or `text`.'),
  })
  .refine((b) => (b.text === undefined) !== (b.answer === undefined), {
    message: 'Either text or answer, not both and not neither.',
  });
export const undoBody = z.strictObject({ rev, turn });
export const changeBody = z.strictObject({ rev, turn, value: valueSchema });
export const patchBody = z.strictObject({
  rev,
  turn,
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
}) satisfies z.ZodType<PatchInput>;

export const readingBody = z.strictObject({
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
}) satisfies z.ZodType<ReadingInput>;
