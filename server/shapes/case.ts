import { z } from 'zod';
import type { Answer, Audience, CaseSettings } from '../../rules/types.ts';
import {
  answerSchema,
  audienceSchema,
  machineSchema,
  settingsSchema,
  unitSchema,
  unitsSchema,
  valueSchema,
} from '../cases/schema.ts';

/** A case as it is kept. `opened`: ISO, UTC. */
export interface CaseRecord {
  id: string;
  rev: number;
  opened: string;
  audience: Audience;
  settings: CaseSettings;
  answers: Answer[];
}

export const caseLine = z.strictObject({
  seq: z.int(),
  turn: z.int(),
  fact: z.string().optional(),
  label: z.string(),
  value: valueSchema.optional(),
  shown: z.string(),
  said: z.string(),
  act: z.enum(['tell', 'correct', 'repeat', 'unsure', 'declined', 'later', 'undo', 'set']),
  choices: z
    .array(z.strictObject({ id: z.string(), label: z.string() }))
    .optional()
    .describe('What it can be changed to: the fact’s own choices; neither these nor a unit = told in words only.'),
  unit: unitSchema.optional().describe('What it can be changed to: a number in this unit.'),
});

export const caseView = z.strictObject({
  id: z.string(),
  rev: z.int().describe('Goes up with every change.'),
  audience: audienceSchema,
  language: z.string().optional().describe('BCP 47 tag of the language this person is spoken to in.'),
  families: z.array(z.string()),
  units: unitsSchema,
  machine: machineSchema,
  answers: z.array(caseLine),
});
export type CaseView = z.infer<typeof caseView>;

/** One turn as it was stored: what it added, the settings after it, and the caller's key if there was one. */
const storedTurn = z.strictObject({
  rev: z.int(),
  settings: settingsSchema,
  answers: z.array(answerSchema),
  key: z.string().optional(),
  asked: z.string().optional(),
});
/** A case turn by turn, the opening first: all that another store needs to hold the very same case. */
export const caseHistory = z
  .strictObject({
    id: z.string(),
    opened: z.string(),
    audience: audienceSchema.describe('Of the opening; settings may have changed it since.'),
    turns: z.array(storedTurn),
  })
  .meta({ id: 'History' });
