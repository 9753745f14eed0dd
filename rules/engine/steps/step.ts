import type { Consultation, NextCheck } from '../../types.ts';
import { asNext } from '../as-next.ts';
import type { Round } from '../round.ts';

/** One step of a round: it hands the round on, with what it found to say, or has the last word. */
export type Step = (round: Round) => Round | Consultation | Promise<Round | Consultation>;

/** This check is done next, and is all that is known to lie ahead. */
export const thisNext = (next: NextCheck): Pick<Consultation, 'next' | 'ahead'> => ({
  next,
  ahead: { min: next.cost_min, checks: 1 },
});

/** A reading (its seq) once more, where it was taken. */
export function onceMore({ knowledge, counts }: Round, seq: number): Pick<Consultation, 'next' | 'ahead'> {
  const r = counts.readings.find((x) => x.seq === seq)!;
  const check = knowledge.checks.get(r.check!)!;
  const there = check.anywhere && r.points && { points: r.points, state: r.state };
  return thisNext({ ...asNext(check, 'repeat'), of: r.seq, ...there });
}

/** Readings with a number: they are written out for whoever comes. */
export const toWriteOut = ({ knowledge, told }: Round): number[] =>
  told.readings.filter((r) => knowledge.facts.get(r.fact)?.kind === 'quantity').map((r) => r.seq);
