import { z } from 'zod';
import { takenSchema, unitSchema, valueSchema } from '../cases/schema.ts';

const evidence = z.string().describe('The words it was taken from.');
const sure = z.boolean();

export const talk = z.enum([
  'yes',
  'no',
  'unsure',
  'declined',
  'later',
  'no-meter',
  'why',
  'what-is-that',
  'safe',
  'cost',
  'how-long',
  'undo',
  'correct',
  'repeat-question',
  'person',
  'restart',
  'may-use',
  'done',
  'made-safe',
  'qualified',
  'greeting',
  'not-a-dryer',
  'help',
  'wait',
  'in-progress',
  'stop',
  'thanks',
  'abuse',
  'off-topic',
  'robot',
  'language',
]);
export type Talk = z.infer<typeof talk>;

const reading = z.strictObject({
  is: z.literal('reading'),
  what: z.enum(['volts', 'ohms', 'amps', 'temperature', 'minutes', 'speed', 'pressure', 'length']),
  value: z.union([z.number(), z.enum(['open', 'beep', 'no-beep'])]),
  unit: unitSchema.optional(),
  fact: z.string().optional().describe('The fact it answers, when the question or the words say so.'),
  pointsSaid: z.string().optional(),
  across: z
    .array(z.array(z.string()))
    .optional()
    .describe(
      'The parts the leads lay across, in line, each with all that its name can be. Empty = a part and a point elsewhere. Where it lies is for the machine in hand to say. Without `unit` none was said.',
    ),
  plugged: z
    .boolean()
    .optional()
    .describe(
      'Whether the cord is in, where that alone was told (at the block; "plug out"): any of the states with it in, or out.',
    ),
  ...takenSchema.shape,
  leadsTakenOff: z.number().optional().describe('Ω taken off for the leads.'),
  saidValue: z.number().optional().describe('As said, where the unit was another one: 135 and "°F".'),
  saidUnit: z.string().optional(),
  unitInferred: z.boolean().optional().describe('The unit was not said; only one was possible.'),
  approx: z.boolean().optional(),
  at_c: z.number().optional().describe('Temperature of the part when it was read, °C.'),
  peak: z.number().optional().describe('Starting peak that went before, in the same unit.'),
  evidence,
});

/** One thing that was meant, in one sense. */
const plain = z.discriminatedUnion('is', [
  z.strictObject({ is: z.literal('complaint'), family: z.string(), evidence }),
  z.strictObject({ is: z.literal('hazard'), fact: z.string(), value: z.string(), sure, evidence }),
  z
    .strictObject({ is: z.literal('suspected'), fact: z.string(), evidence })
    .describe('A word of danger that may mean one: worth one short question.'),
  z
    .strictObject({ is: z.literal('plain-no'), of: z.enum(['plain', 'people', 'now', 'soft']), evidence })
    .describe(
      'A plain no to a question about dangers: to all its lines, about people alone, about now alone; `soft` looks like one and is none.',
    ),
  z
    .strictObject({ is: z.literal('denied'), fact: z.string(), value: z.string(), sure, evidence })
    .describe(
      'Said not to be there. `sure: false` = only its name was denied ("it was not gas"): enough to ask about a stop, not to note it.',
    ),
  z.strictObject({
    is: z.literal('answer'),
    fact: z.string(),
    value: valueSchema,
    unit: unitSchema.optional(),
    sure: sure.optional().describe('false = hedged ("I think so").'),
    evidence,
  }),
  z
    .strictObject({ is: z.literal('noted'), fact: z.string(), value: valueSchema, unit: unitSchema.optional(), evidence })
    .describe('Told on the way and worth keeping, though no fact of the knowledge: with its own fact names.'),
  reading,
  z.strictObject({
    is: z.literal('plate'),
    volts: z.number().optional(),
    total_w: z.number().optional(),
    heater_w: z.number().optional(),
    amps: z.number().optional(),
    evidence,
  }),
  z.strictObject({ is: z.literal('machine'), fact: z.string(), value: z.string(), evidence }),
  z
    .strictObject({ is: z.literal('built'), variant: z.string(), has: z.enum(['has', 'not', 'maybe']), evidence })
    .describe('Of a variant of the drawing: this machine is built that way, is not, or may be.'),
  z.strictObject({ is: z.literal('talk'), what: talk, of: z.string().optional(), evidence }),
]);
type Plain = z.infer<typeof plain>;

/** What one utterance meant. Several acts may come from one sentence; an empty list = nothing understood. */
export type Meaning =
  | Plain
  | {
      is: 'ambiguous';
      question: string;
      options: { label: string; meaning: Meaning; also?: Meaning[] | undefined }[];
    };
export const meaning: z.ZodType<Meaning> = z
  .lazy(() =>
    z.union([
      plain,
      z.strictObject({
        is: z.literal('ambiguous'),
        question: z.string(),
        options: z.array(
          z.strictObject({
            label: z.string(),
            meaning,
            also: z.array(meaning).optional().describe('What else was said with that meaning, taken with it.'),
          }),
        ),
      }),
    ]),
  )
  .meta({ id: 'Meaning' });

export const understood = z
  .strictObject({
    acts: z.array(meaning).describe('What was made of the words, one entry for each meaning.'),
    left: z.array(z.string()).describe('Spans of the text nothing was made of.'),
  })
  .meta({ id: 'Understood' });
export type Understood = z.infer<typeof understood>;
