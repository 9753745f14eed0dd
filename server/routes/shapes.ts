import { z } from 'zod';
import { caseView } from '../shapes/case.ts';
import { understood } from '../shapes/meaning.ts';
import { reply } from '../shapes/reply.ts';

/** What the routes answer that is no thing of its own. */
const sent = reply.meta({ id: 'Reply' });
export const caseShape = z.strictObject({ case: caseView, reply: sent });
export const turnShape = z.strictObject({ case: caseView, reply: sent, understood });
export const healthShape = z.strictObject({ ok: z.literal(true), by: z.enum(['server', 'worker']), knowledge: z.string() });
export const demoListShape = z.array(z.strictObject({ name: z.string(), title: z.string() }));
export const demoShape = z.strictObject({ name: z.string(), title: z.string(), transcript: z.unknown() });
