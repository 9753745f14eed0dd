import { z } from 'zod';
import { pointsSchema, unitSchema } from '../cases/schema.ts';

const texts = z.array(z.string());
const likely = z.strictObject({ label: z.string(), share: z.number() });

/** A point of the drawn circuit. */
const wiringNode = z.strictObject({
  id: z.string(),
  name: z.string(),
  covers: texts.describe('What must be off to reach it, outermost first, in words.'),
  live: z.boolean().describe('Hangs on a leg in the state of the check, when all is sound.'),
});
export type WiringNode = z.infer<typeof wiringNode>;

const wiringBranch = z.strictObject({
  id: z.string(),
  a: z.string(),
  b: z.string(),
  part: z.string(),
  kind: z.enum(['lead', 'contact', 'coil', 'resistor', 'winding']),
  closed: z.boolean().describe('As it stands in the state of the check, when all is sound.'),
  carries: z.boolean().describe('Should carry more current than the meter’s error, when all is sound.'),
  supply: z.boolean().describe('Ends at the block: supply, receptacle and cord.'),
  suspects: z.array(likely).describe('Suspects that lie here, likeliest first.'),
});
export type WiringBranch = z.infer<typeof wiringBranch>;

/** What of a circuit is the same on every turn: its points and parts. */
export const drawing = z
  .strictObject({
    id: z.string().describe('Two of the same id are the same drawing, in the same words.'),
    nodes: z.array(wiringNode.omit({ live: true })),
    branches: z.array(wiringBranch.omit({ closed: true, carries: true, suspects: true })),
  })
  .meta({ id: 'Drawing', description: 'The points and parts of a circuit.' });
export type Drawing = z.infer<typeof drawing>;

/** The circuit as data; how it is drawn is the page's. */
export const wiring = z
  .strictObject({
    drawing: z.string().describe('Id of the drawing its points and parts are from.'),
    machine: z.string(),
    otherwise: texts.optional().describe('Ways this one is built otherwise, and drawn so.'),
    likeliest: z.boolean().describe('More than one kind of machine is still possible: the likeliest is drawn.'),
    nodes: z.array(wiringNode),
    branches: z.array(wiringBranch),
    reads: z
      .array(
        z.strictObject({
          fact: z.string(),
          label: z.string(),
          points: pointsSchema.optional().describe('Red, black'),
          clamp: z.string().optional(),
          words: z.string(),
        }),
      )
      .describe('Where the leads or the clamp go; a reading that is not taken on this machine has neither.'),
    lift: z
      .strictObject({ node: z.string(), opens: texts, what: z.string() })
      .optional()
      .describe('The lead that comes off first: on which point, and the branches that opens.'),
    covers: texts,
    stateWords: z.string(),
    apart: texts.optional().describe('Branches drawn as a contact, open: wired straight in, that is where the supply is parted.'),
    plugged: z.boolean(),
    offAt: z
      .enum(['plug', 'breaker'])
      .optional()
      .describe('Not plugged: what parts the machine from the supply; above it all is live.'),
  })
  .meta({ id: 'Wiring', description: 'The circuit a reading is asked in.' });
export type Wiring = z.infer<typeof wiring>;

/** The one question open now. */
export const ask = z
  .strictObject({
    check: z.string(),
    text: z.string(),
    kind: z
      .enum(['one', 'many', 'readings'])
      .describe('one: pick one. many: pick any, or "none". readings: one or more numbers.'),
    choices: z.array(z.strictObject({ id: z.string(), label: z.string(), fact: z.string().optional() })),
    groups: z
      .array(z.strictObject({ id: z.string(), label: z.string(), of: texts }))
      .optional()
      .describe('Of a long list: choices that stand under one line until that line is picked.'),
    reads: z.array(
      z.strictObject({
        fact: z.string(),
        label: z.string(),
        unit: unitSchema,
        points: pointsSchema.optional().describe('Where the leads go; a number that is no reading (how warm it is) has none.'),
        pointWords: z.string(),
      }),
    ),
    of: z.int().optional().describe('Set when a doubtful reading is asked again.'),
    why: z.string(),
    cautions: texts,
    min: z.number().describe('Estimated minutes for this check alone.'),
    covers: texts,
    stateWords: z.string(),
    script: z.string().optional().describe('A line for a call-centre agent to read aloud.'),
    about: z
      .strictObject({ signs: texts })
      .optional()
      .describe('Where dangers are asked: the facts that tell of them. Only a plain no clears such a question.'),
    wiring: wiring
      .optional()
      .describe('Where a reading is asked: the circuit it is taken in. Never there for somebody who is not asked for it.'),
  })
  .meta({ id: 'Ask', description: 'The one question open now.' });
export type Ask = z.infer<typeof ask>;
