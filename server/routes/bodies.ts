import { z } from 'zod';
import { LONGEST_SAID, valueSchema } from '../cases/schema.ts';
import { answerInput, openInput, patchInput } from '../shapes/input.ts';

/** What the API takes, strictly: what is told the conversation (`shapes/input.ts`) and what the API alone needs. */
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

/** A case opened under an id of the caller's own making: as unguessable as ours, for it is the key to the case. */
export const ownCaseParam = z.object({
  id: z.string().regex(/^[A-Za-z0-9_-]{24,64}$/, 'At least 24 random letters of base64url.'),
});
export const openUnderBody = openInput.extend({
  opened: z.iso.datetime().optional().describe('When it was opened, if that was earlier, with no network. Never later than now.'),
});
export const turnsQuery = z.strictObject({ after: z.coerce.number().int().nonnegative().optional() });

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
    answer: answerInput.optional().describe('A structured answer. Either this or `text`.'),
  })
  .refine((b) => (b.text === undefined) !== (b.answer === undefined), {
    message: 'Either text or answer, not both and not neither.',
  });
export const undoBody = z.strictObject({ rev, turn });
export const changeBody = z.strictObject({ rev, turn, value: valueSchema });
export const patchBody = patchInput.extend({ rev, turn });
