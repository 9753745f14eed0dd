import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import type { NoAnswer, Value } from '../types.ts';

/** What was picked, as the API takes it: of a list of many all at once, by commas, for what was not picked is an answer too. */
export const picked = (ask: Ask, ids: string[]): AnswerInput[] => [
  { fact: ask.choices.find((choice) => choice.id === ids[0])?.fact ?? ask.check, value: ids.join(',') },
];

export type HowRead = Pick<AnswerInput, 'lifted' | 'lowImpedance'>;
export const readings = (ask: Ask, values: { fact: string; value: Value }[], how: HowRead): AnswerInput[] =>
  values.map(({ fact, value }) => {
    const read = ask.reads.find((r) => r.fact === fact);
    return {
      check: ask.check,
      fact,
      value,
      ...(read && { unit: read.unit, ...(read.points && { points: read.points }) }),
      ...how,
    };
  });

/** No answer is an answer too, said of the whole check, and remembered so that the same is not asked again at once. */
export const noAnswer = (ask: Ask, act: NoAnswer): AnswerInput[] => [{ fact: ask.check, act }];

/** Readings of one visit as they stand in their fields. */
export interface Entered {
  given: { fact: string; value: Value }[];
  /** Facts of the fields with something in them that is no reading; of all fields where there is none at all. */
  wrong: string[];
}
/** @param values by fact, undefined while there is none @param isEmpty whether nothing is typed for a fact */
export function entered(ask: Ask, values: Record<string, Value | undefined>, isEmpty: (fact: string) => boolean): Entered {
  const given = ask.reads.flatMap(({ fact }) => {
    const value = values[fact];
    return value === undefined ? [] : [{ fact, value }];
  });
  const missing = ask.reads.map(({ fact }) => fact).filter((fact) => values[fact] === undefined);
  return { given, wrong: missing.filter((fact) => given.length === 0 || !isEmpty(fact)) };
}
