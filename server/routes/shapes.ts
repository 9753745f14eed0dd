import { z } from 'zod';

/** What the routes answer that is no thing of its own. */
export const healthShape = z.strictObject({ ok: z.literal(true), by: z.enum(['server', 'worker']), knowledge: z.string() });
export const demoListShape = z.array(z.strictObject({ name: z.string(), title: z.string() }));
export const demoShape = z.strictObject({ name: z.string(), title: z.string(), transcript: z.unknown() });
