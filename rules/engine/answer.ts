import { z } from 'zod';
import { audience, unit } from '../knowledge/words.ts';
import type { MachineInHand, Value } from '../types.ts';

/**
 * What a person told, in the shapes it is kept in: a case is nothing but the fold of these. The shapes are the types; they are read
 * where a stored case comes in (`server/cases/read-record.ts`), and trusted from there on.
 */

/** Longest thing a person may type in one go, in characters. */
export const LONGEST_SAID = 4000;

export const idShape = z.string().min(1).max(80);
/** Finite numbers only: JSON has no NaN, and 1e999 would arrive as Infinity. */
export const valueShape: z.ZodType<Value> = z.union([z.number(), z.string().min(1).max(200)]);

/** Two points of the drawing, the red lead first. */
export const pointsShape = z.tuple([idShape, idShape]);
/** How a reading was taken, as far as it was told; what is absent is as its check says. */
export const takenShape = z.strictObject({
  points: pointsShape.optional(),
  /** State of the machine, by id. */
  state: idShape.optional(),
  /** One lead of the part was off. */
  lifted: z.boolean().optional(),
  /** The meter was on low impedance. */
  lowImpedance: z.boolean().optional(),
});
export type Taken = z.infer<typeof takenShape>;

/** What was told of how a reading was taken, and nothing else of it; undefined = nothing was told. */
export function takenOf({ points, state, lifted, lowImpedance }: Taken): Taken | undefined {
  const taken: Taken = {
    ...(points !== undefined && { points }),
    ...(state !== undefined && { state }),
    ...(lifted !== undefined && { lifted }),
    ...(lowImpedance !== undefined && { lowImpedance }),
  };
  return Object.keys(taken).length ? taken : undefined;
}

export const plateShape = z.strictObject({
  volts: z.number().optional(),
  total_w: z.number().optional(),
  heater_w: z.number().optional(),
  amps: z.number().optional(),
});
export const hookupShape = z.enum(['three-wire', 'four-wire', 'unknown']);
export const machineShape = z.strictObject({
  circuits: z.array(idShape).max(20).optional(),
  plate: plateShape.optional(),
  hookup: hookupShape.optional(),
  meter: idShape.optional(),
  leads_ohm: z.number().optional(),
  system: idShape.optional(),
  variants: z.array(idShape).max(20).optional(),
  maybe: z.array(idShape).max(20).optional(),
  repaired: z.array(idShape).max(50).optional(),
}) satisfies z.ZodType<Partial<MachineInHand>>;
export const caseSettingsShape = z.strictObject({
  audience: audience.optional(),
  families: z.array(idShape).max(20).optional(),
  units: z.enum(['us', 'metric']).optional(),
  /** BCP 47 tag of the language the case is talked in; absent = the first. Nothing is reasoned from it. */
  language: z.string().max(35).optional(),
  machine: machineShape.optional(),
  /** What a person wrote on the job sheet, by field; nothing is reasoned from it. */
  job: z.record(idShape, z.string()).optional(),
});
export type CaseSettings = z.infer<typeof caseSettingsShape>;

/** Of every answer: its number, and the turn it was told in. Answers of one utterance share a turn, and undo takes back a whole turn. */
const every = {
  seq: z.int().positive(),
  turn: z.int().nonnegative(),
  said: z.string().max(LONGEST_SAID),
  by: audience,
};

/** A fact with its value, told, put right (`of` = the number of the answer it replaces) or read again (`of` = the first of them). */
export const toldShape = z.strictObject({
  act: z.enum(['tell', 'correct', 'repeat']),
  fact: idShape,
  value: valueShape,
  unit: unit.optional(),
  /** The check it was asked under, or that it is a reading of. */
  check: idShape.optional(),
  of: z.int().optional(),
  taken: takenShape.optional(),
  ...every,
});
export type Told = z.infer<typeof toldShape>;

/** What got no answer: one fact (under a check, if it was asked there), or a check as a whole. */
export const aboutShape = z.union([
  z.strictObject({ fact: idShape, check: idShape.optional() }),
  z.strictObject({ check: idShape }),
]);
export const unansweredShape = z.strictObject({ act: z.enum(['unsure', 'declined', 'later']), about: aboutShape, ...every });
export type Unanswered = z.infer<typeof unansweredShape>;
export type WhyUnanswered = Unanswered['act'];

/** Takes back the newest turn that stands. */
export const undoneShape = z.strictObject({ act: z.literal('undo'), ...every });
export type Undone = z.infer<typeof undoneShape>;

/** What about the case changes: the complaint, the machine, who is spoken to. */
export const settingsShape = z.strictObject({ act: z.literal('set'), set: caseSettingsShape, ...every });
export type Settings = z.infer<typeof settingsShape>;

const noting = <Kind extends string, More extends z.ZodRawShape>(kind: Kind, more: More) =>
  z.strictObject({ act: z.literal('note'), note: z.literal(kind), ...more, ...every });
/** What the talk itself must remember between turns. Nothing is reasoned from it: the fold passes over it. */
export const noteShape = z.discriminatedUnion('note', [
  /** Words nothing was made of. */
  noting('not-understood', {}),
  /** A correction that would lift a stop and waits for its "yes"; without one, the taking back of a turn. */
  noting('read-back', {
    lifting: z.strictObject({ fact: idShape, value: valueShape, of: z.int().optional() }).optional(),
  }),
  /** A sentence that may mean several things: which of them is made again from its words. */
  noting('which', {}),
  /** Facts of the dangers that words may have told; the first is asked about. */
  noting('danger', { facts: z.array(idShape).min(1) }),
  /** "None right now": it clears what can only be now. */
  noting('now-only', {}),
  /** A read-back that was answered, and all stays as it was. */
  noting('settled', {}),
  /** Words for the job sheet; `item` where they told one of its lines (`visit_wanted`: yes), which is no fact of the knowledge. */
  noting('noted', { item: z.strictObject({ name: idShape, value: valueShape }).optional() }),
  /** Something done already while a stop stands, by the id of the act. */
  noting('done', { did: idShape }),
]);
export type Note = z.infer<typeof noteShape>;
export type NoteKind = Note['note'];

export const answerShape = z.discriminatedUnion('act', [toldShape, unansweredShape, undoneShape, settingsShape, noteShape]);
/** One thing somebody told, in the order told. */
export type Answer = z.infer<typeof answerShape>;

/** Of the union of answers, or of one made from it by leaving keys out. */
export const isTold = <A extends Pick<Answer, 'act'>>(a: A): a is Extract<A, { act: Told['act'] }> =>
  a.act === 'tell' || a.act === 'correct' || a.act === 'repeat';
export const isUnanswered = <A extends Pick<Answer, 'act'>>(a: A): a is Extract<A, { act: WhyUnanswered }> =>
  a.act === 'unsure' || a.act === 'declined' || a.act === 'later';

/** The fact an answer is about, told or not; undefined = about none, or about a check as a whole. */
export function factIn(a: Pick<Answer, 'act'> & { fact?: string; about?: Unanswered['about'] }): string | undefined {
  if (a.about) return 'fact' in a.about ? a.about.fact : undefined;
  return a.fact;
}
