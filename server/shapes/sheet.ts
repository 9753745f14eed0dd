import { z } from 'zod';
import { plateSchema } from '../cases/schema.ts';
import { band, standing } from './judged.ts';

const texts = z.array(z.string());
const titled = z.array(z.strictObject({ id: z.string(), title: z.string() }));

/** One thing a person writes on the job sheet by hand. It is carried along and reasoned about by nobody. */
export const jobField = z.strictObject({
  id: z.string(),
  label: z.string(),
  choices: texts.optional().describe('What is usually written there.'),
  time: z.boolean().optional().describe('A time of day.'),
});
export type JobField = z.infer<typeof jobField>;

/** A block of the sheet that people write in: contact, access, times, work done. */
export const jobBlock = z.strictObject({
  id: z.string(),
  title: z.string(),
  phase: z.enum(['before', 'after']).describe('Before the visit, or after it by whoever was there.'),
  fields: z.array(jobField),
});
export type JobBlock = z.infer<typeof jobBlock>;
const writtenBlock = jobBlock.extend({ fields: z.array(jobField.extend({ value: z.string() })) });
export type WrittenBlock = z.infer<typeof writtenBlock>;

/** A reading on the sheet: what, where, in which state, who told it, and what it was held against. */
const sheetReading = z.strictObject({
  seq: z.int(),
  fact: z.string(),
  label: z.string(),
  shown: z.string(),
  where: z.string(),
  state: z.string(),
  lifted: z.boolean(),
  by: z.string(),
  expected: band.optional(),
  expectedShown: z.string().optional(),
  verdict: z.string(),
  standing,
  said: z.string().describe('A person’s own words.'),
});
export type SheetReading = z.infer<typeof sheetReading>;

const closeOutRow = z.strictObject({
  label: z.string(),
  where: z.string(),
  state: z.string(),
  lifted: z.boolean(),
  values: texts.describe('Every value read there, in order; `asFound` is the same as shown.'),
  asFound: z.string(),
  asLeft: z.string().nullable(),
  expected: z.string().optional(),
  verdict: z.string(),
  standing,
  by: z.string(),
});
export type CloseOutRow = z.infer<typeof closeOutRow>;

const share = z.strictObject({ label: z.string(), share: z.number() });

/** What is taken along to the visit, and filled in after it. */
export const jobSheet = z
  .strictObject({
    title: z.string(),
    opened: z.string().describe('ISO, UTC'),
    job: z.array(writtenBlock),
    safety: z.strictObject({
      stops: z.array(z.strictObject({ sign: z.string(), words: z.string() })),
      everStopped: texts,
      clear: texts.describe('Lists of danger signs of which none was told.'),
      note: z.string(),
    }),
    complaint: z.strictObject({ families: titled, said: texts }),
    machine: z.strictObject({
      kinds: titled,
      plate: plateSchema,
      plateSupply: z.string().optional().describe('What the plate says of its supply, where that was told as a choice.'),
      hookup: z.string(),
      meter: z.string(),
      coverNote: z.string(),
    }),
    readings: z.array(sheetReading),
    measured: z.array(sheetReading),
    skipped: texts,
    result: z.strictObject({
      conclusion: z.string().optional(),
      faults: z.array(z.strictObject({ id: z.string(), label: z.string() })),
      suspects: z.array(share),
      words: texts,
    }),
    ruledOut: z
      .array(z.strictObject({ label: z.string(), by: texts }))
      .describe('One fault each, with every reading it cannot explain.'),
    letter: z
      .strictObject({ to: texts, dryer: z.string(), text: z.string(), readings: texts, mayUse: z.string(), ask: z.string() })
      .optional(),
    visit: z
      .strictObject({
        kind: z.string(),
        trades: texts,
        mayUse: z.string(),
        priority: z.string(),
        parts: texts,
        minutes: z.number(),
      })
      .optional(),
    causes: z.array(z.strictObject({ label: z.string(), state: z.string() })),
    proofs: z.array(z.strictObject({ check: z.string(), label: z.string(), state: z.string() })),
    closeOut: z.array(closeOutRow).describe('What was measured, each pair of points once, however often it was read.'),
  })
  .meta({ id: 'JobSheet' });
export type JobSheet = z.infer<typeof jobSheet>;
