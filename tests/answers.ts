import { takenOf } from '../rules/index.ts';
import type { Answer, Taken, Told, Unanswered, Unit, Value } from '../rules/types.ts';

/** One thing told, in a line: a value, or an act in its place. */
export interface Flat extends Taken {
  /** Absent = told. */
  act?: Told['act'] | Unanswered['act'];
  fact?: string;
  check?: string;
  value?: Value;
  unit?: Unit;
  of?: number;
}
interface OneTold extends Flat {
  seq: number;
  /** Absent = a turn of its own. */
  turn?: number;
  said?: string;
  by: Answer['by'];
}

/** The same in the shape it is kept in. */
export function answerOf({ act = 'tell', fact, check, value, unit, of, seq, turn = seq, said, by, ...how }: OneTold): Answer {
  const every = { seq, turn, said: said ?? String(value ?? ''), by };
  if (act === 'unsure' || act === 'declined' || act === 'later') {
    if (fact !== undefined) return { act, about: { fact, ...(check !== undefined && { check }) }, ...every };
    return { act, about: { check: check! }, ...every };
  }
  const taken = takenOf(how);
  return {
    act,
    fact: fact!,
    value: value!,
    ...(unit !== undefined && { unit }),
    ...(check !== undefined && { check }),
    ...(of !== undefined && { of }),
    ...(taken && { taken }),
    ...every,
  };
}

/** Fact and value of what was told, in order; what else the turns left is passed over. */
export const toldIn = (answers: readonly Answer[]): [fact: string, value: Value][] =>
  answers.flatMap((a) => ('value' in a ? [[a.fact, a.value] as [string, Value]] : []));

/** The check an answer stands under, told or not. */
export const checkIn = (a: Answer): string | undefined => ('about' in a ? a.about.check : 'check' in a ? a.check : undefined);
