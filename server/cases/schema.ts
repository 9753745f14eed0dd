import { z } from 'zod';
import type { Answer, CaseSettings, MachineInHand, Unit, Value } from '../../rules/types.ts';
import { LONGEST_FIELD } from '../conversation/show/job-fields.ts';
import { TAGS } from '../conversation/words/languages.ts';

// zod would try whether it may compile its checks; under our policy that try is an error in somebody's console.
z.config({ jitless: true });

/** Longest thing a person may type in one go, in characters. */
export const LONGEST_SAID = 4000;

const id = z.string().min(1).max(80);
export const audienceSchema = z.enum(['homeowner', 'agent', 'technician']);
export const unitsSchema = z.enum(['us', 'metric']);
export const languageSchema = z.enum(TAGS);
export const unitSchema = z.enum(['V', 'Ω', 'A', 'W', '°C', 'min', 'Pa', 'm/s', '1']) satisfies z.ZodType<Unit>;
/** Finite numbers only: JSON has no NaN, and 1e999 would arrive as Infinity. */
export const valueSchema = z.union([z.number(), z.string().min(1).max(200)]) satisfies z.ZodType<Value>;
export const pointsSchema = z.tuple([id, id]);

export const plateSchema = z.strictObject({
  volts: z.number().optional(),
  total_w: z.number().optional(),
  heater_w: z.number().optional(),
  amps: z.number().optional(),
});
export const hookupSchema = z.enum(['three-wire', 'four-wire', 'unknown']);
export const machineSchema = z.strictObject({
  circuits: z.array(id).max(20).optional(),
  plate: plateSchema.optional(),
  hookup: hookupSchema.optional(),
  meter: id.optional(),
  leads_ohm: z.number().optional(),
  system: id.optional(),
  variants: z.array(id).max(20).optional(),
  maybe: z.array(id).max(20).optional(),
  repaired: z.array(id).max(50).optional(),
}) satisfies z.ZodType<Partial<MachineInHand>>;
export const settingsSchema = z.strictObject({
  audience: audienceSchema.optional(),
  families: z.array(id).max(20).optional(),
  units: unitsSchema.optional(),
  language: languageSchema.optional(),
  machine: machineSchema.optional(),
  job: z.record(id, z.string().max(LONGEST_FIELD)).optional(),
}) satisfies z.ZodType<CaseSettings>;

/** One stored answer. Strict: a key nobody knows means that something else wrote the row. */
export const answerSchema = z.strictObject({
  seq: z.int().positive(),
  turn: z.int().nonnegative(),
  act: z.enum(['tell', 'correct', 'repeat', 'unsure', 'declined', 'later', 'undo', 'set']),
  of: z.int().optional(),
  fact: id.optional(),
  check: id.optional(),
  value: valueSchema.optional(),
  unit: unitSchema.optional(),
  points: pointsSchema.optional(),
  state: id.optional(),
  lifted: z.boolean().optional(),
  lowImpedance: z.boolean().optional(),
  said: z.string().max(LONGEST_SAID),
  by: audienceSchema,
  set: settingsSchema.optional(),
}) satisfies z.ZodType<Answer>;
