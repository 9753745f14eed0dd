import { z } from 'zod';
import { CONCLUSIONS, MAY_USE, RULE_SETS, TRADES, TRUTHS } from '../../rules/index.ts';
import type { Consultation } from '../../rules/types.ts';
import { band, standing, verdictWord } from './judged.ts';
import type { Same, Whole } from './same.ts';

const texts = z.array(z.string());
const seqs = z.array(z.int());

const verdict = z.strictObject({
  seq: z.int(),
  is: verdictWord,
  healthy: band.optional(),
  class: z.string().optional(),
  standing,
  rule: z.string(),
  sources: texts,
});
const suspect = z.strictObject({
  faults: texts.describe('Empty: something not listed.'),
  share: z.number(),
  misreads: z.int(),
  live: z.boolean(),
  for: seqs,
  against: seqs,
  confirmedBy: seqs,
});
const referral = z.strictObject({
  trades: z.array(z.enum(TRADES)),
  mayUse: z.enum(MAY_USE),
  priority: z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3), z.literal(4)]),
  parts: texts,
  visit_min: z.number(),
  readings: seqs,
  kind: z.string(),
  rule: z.string(),
});
const nextCheck = z.strictObject({
  check: z.string(),
  why: z.enum(['gate', 'repeat', 'worth', 'confirm', 'cause', 'proof']),
  of: z.int().optional(),
  cost_min: z.number(),
  outcomes: z.array(z.strictObject({ outcome: z.string(), leaves: z.array(texts) })),
  points: z.tuple([z.string(), z.string()]).optional().describe('A reading found in the circuit: between these points.'),
  state: z.string().optional(),
});
export const standsUntil = z.enum(['outside help', 'made safe', 'their own wish']);
const stop = z.strictObject({
  sign: z.string(),
  rule: z.string(),
  standsUntil,
  suppresses: texts,
  readings: seqs.optional().describe('Those it follows from, where it was not told in words.'),
});
export const conclusion = z.strictObject({
  is: z.enum(CONCLUSIONS),
  faults: texts,
});
const trace = z.strictObject({
  set: z.enum(RULE_SETS),
  rule: z.string(),
  item: z.string().optional(),
  truth: z.enum(TRUTHS),
  saw: z.record(z.string(), z.unknown()),
});

/** All that the rules make of a case. */
export const consultation = z
  .strictObject({
    knowledge: z.string(),
    rev: z.int(),
    stops: z.array(stop),
    madeSafe: texts,
    found: z
      .array(z.strictObject({ finding: z.string(), readings: seqs }))
      .describe('What the readings say of the case as a whole.'),
    silenced: texts,
    verdicts: z.array(verdict),
    suspects: z.array(suspect),
    notToldApart: z.array(texts),
    next: nextCheck.optional(),
    ahead: z.strictObject({ min: z.number(), checks: z.number() }),
    referral: referral.optional(),
    conclusion: conclusion.optional(),
    followThrough: z.array(
      z.strictObject({
        kind: z.enum(['cause', 'proof', 'close-out']),
        item: z.string(),
        state: z.enum(['due', 'good', 'failed']),
      }),
    ),
    trace: z.array(trace),
  })
  .meta({
    id: 'Consultation',
    description: 'What the rules make of the case: stops, verdicts, suspects, the next check, who to send.',
  }) satisfies z.ZodType<Consultation>;

/** The engine's own type and what is published are one, field by field; one that is forgotten here does not compile. */
export const CONSULTATION_IS_WHOLE: Same<Whole<z.infer<typeof consultation>>, Whole<Consultation>> = true;
