import { z } from 'zod';
import { unitSchema, valueSchema } from '../cases/schema.ts';
import { ask } from './ask.ts';
import { conclusion, consultation, standsUntil } from './consultation.ts';
import { curves } from './curves.ts';
import { band, standing, verdictWord } from './judged.ts';

const texts = z.array(z.string());

/** A piece of what is said. `text` is Markdown of our own; a person's own words stand only in fields named `said`, and are data, never markup. */
export const part = z.strictObject({
  kind: z.enum(['say', 'ask', 'caution', 'stop', 'refer', 'conclude', 'explain']),
  text: z.string().describe('Markdown'),
});
export type Part = z.infer<typeof part>;
export type PartKind = Part['kind'];

/** A reading that stands, and how it was judged. */
export const evidenceRow = z.strictObject({
  seq: z.int(),
  fact: z.string(),
  label: z.string(),
  value: valueSchema,
  shown: z.string().describe('With unit: "118.6 V", "OL", "no heat".'),
  said: z.string(),
  unit: unitSchema.optional(),
  expected: band.optional(),
  expectedShown: z.string().optional(),
  meter: z
    .strictObject({ lo: z.number(), hi: z.number() })
    .optional()
    .describe('What the true value may be, given the error of the meter.'),
  verdict: verdictWord,
  verdictWords: z.string(),
  standing,
  because: z.string(),
  sources: texts,
});
export type EvidenceRow = z.infer<typeof evidenceRow>;

export const suspectRow = z.strictObject({
  faults: texts,
  label: z.string(),
  share: z.number(),
  live: z.boolean(),
  for: texts,
  against: texts,
  speaks: z
    .array(z.strictObject({ seq: z.int(), is: z.enum(['for', 'against']), would: z.string().optional() }))
    .optional()
    .describe('The same by reading: `would` is what that reading would be under this suspect, with unit.'),
});
export type SuspectRow = z.infer<typeof suspectRow>;

export const progress = z.strictObject({ suspectsLeft: z.number(), minutesLeft: z.number(), checksLeft: z.number() });
export type Progress = z.infer<typeof progress>;

/** What the open check could show, and which suspects each outcome would leave. */
export const outlook = z
  .strictObject({
    check: z.string(),
    outcomes: z.array(
      z.strictObject({
        label: z.string(),
        leaves: z
          .array(z.strictObject({ label: z.string(), share: z.number() }))
          .describe('Likeliest first; none = every suspect of now would be out.'),
        more: z.int().describe('How many more it would leave.'),
      }),
    ),
  })
  .meta({ id: 'Outlook', description: 'What each outcome of the open check would leave.' });
export type Outlook = z.infer<typeof outlook>;

/** A stop that stands, and the facts its rule saw. */
export const heldStop = z.strictObject({ sign: z.string(), standsUntil, saw: texts });

/** What is said after a turn. */
export const reply = z.strictObject({
  parts: z.array(part),
  ask: ask.optional(),
  stops: z.array(heldStop).optional().describe('Absent = none stands.'),
  conclusion: conclusion.optional(),
  evidence: z.array(evidenceRow),
  suspects: z.array(suspectRow),
  progress,
  curves: curves.optional(),
  outlook: outlook.optional(),
});
export type Reply = z.infer<typeof reply>;

/** With all that the rules make of the case. */
export const explainedReply = reply.extend({ consultation });
export type ExplainedReply = z.infer<typeof explainedReply>;
