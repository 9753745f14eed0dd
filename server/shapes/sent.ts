import { z } from 'zod';
import { ask, wiring } from './ask.ts';
import { caseLine, caseView } from './case.ts';
import { consultation } from './consultation.ts';
import { standing, verdictWord } from './judged.ts';
import { understood } from './meaning.ts';
import { evidenceRow, reply, suspectRow } from './reply.ts';

/**
 * A reply as it goes over the line: nothing is told twice. What was told stands in the case's own answers, by seq; a drawing's points
 * and parts are a route of their own.
 */
const seqs = z.array(z.int());
const ids = z.array(z.string());
const range = z.tuple([z.number(), z.number()]);

const sentWiring = wiring.omit({ nodes: true, branches: true }).extend({
  live: ids.describe('Points that hang on a leg.'),
  open: ids.describe('Branches that are not closed.'),
  carries: ids.describe('Branches that should carry current.'),
  suspects: z.record(z.string(), seqs).describe('Branch -> who may lie there: places in the list of suspects.'),
});
export type SentWiring = z.infer<typeof sentWiring>;
const sentAsk = ask.extend({ wiring: sentWiring.optional() }).meta({ id: 'Ask' });

const judged = evidenceRow.pick({ seq: true, because: true }).extend({
  verdict: verdictWord.optional().describe('Absent = good.'),
  standing: standing.optional().describe('Absent = single.'),
  expected: range.optional().describe('From, to; the first above the second = over range (OL) alone.'),
  shown: z.string().optional().describe('What was expected, with unit.'),
  open: z.literal(true).optional().describe('Over range (OL) lies in what was expected too.'),
  meter: range.optional().describe('What the true value may be, given the error of the meter.'),
  sources: seqs.optional().describe('Places in the list of sources; absent = the first alone.'),
});
export type SentRow = z.infer<typeof judged>;

const ruledOut = suspectRow.pick({ label: true }).extend({
  for: seqs.optional(),
  against: seqs.optional(),
  would: z.record(z.string(), z.string()).optional().describe('Seq -> what that reading would have been, with unit.'),
});
const suspect = ruledOut.extend({ faults: ids.describe('Empty: something not listed.'), share: z.number() });
export type SentRuledOut = z.infer<typeof ruledOut>;
export type SentSuspect = z.infer<typeof suspect>;

export const sentReply = reply
  .omit({ evidence: true, suspects: true, ask: true })
  .extend({
    ask: sentAsk.optional(),
    evidence: z.array(judged).describe('Every reading that was judged; what was read stands in the case, by seq.'),
    noted: seqs.describe('What was told and needs no judging.'),
    verdicts: z.partialRecord(verdictWord, z.string()).describe('The verdicts given, in words.'),
    sources: ids.describe('What the verdicts go by.'),
    suspects: z.array(suspect).describe('What is still in the talk, likeliest first.'),
    ruledOut: z.array(ruledOut),
    consultation: consultation.optional().describe('With `explain=1` alone.'),
  })
  .meta({ id: 'Reply' });
export type SentReply = z.infer<typeof sentReply>;

const sentLine = caseLine.omit({ said: true, choices: true }).extend({
  said: z
    .string()
    .optional()
    .describe('What was typed; absent = as in the line before, where that is of the same turn, else as shown.'),
  choices: z
    .int()
    .optional()
    .describe('What it can be changed to: a place in the list of choices; neither this nor a unit = told in words only.'),
});
export type SentLine = z.infer<typeof sentLine>;

const sentView = caseView
  .omit({ answers: true })
  .extend({
    answers: z.array(sentLine).describe('Every answer still standing, in order, with what was typed.'),
    choices: z
      .array(z.array(z.tuple([z.string(), z.string()])))
      .describe('What answers can be changed to: choices by id and label, each list of them once.'),
  })
  .meta({ id: 'Case' });
export type SentView = z.infer<typeof sentView>;

export const sentCase = z.strictObject({ case: sentView, reply: sentReply });
export type SentCase = z.infer<typeof sentCase>;
export const sentTurn = sentCase.extend({ understood });
export type SentTurn = z.infer<typeof sentTurn>;
