import { factIn, isTold } from '../../../rules/index.ts';
import type { Answer, CaseFacts, Knowledge } from '../../../rules/types.ts';
import type { Draft } from './notes.ts';
import { newest, type Standing } from './standing.ts';

/** Is this fact's answer one that stops the talk? */
export const isDanger = (k: Knowledge, fact: string, value: unknown): boolean =>
  k.facts.get(fact)?.danger?.includes(String(value)) ?? false;

/** Does this fact stop the talk now, told so or "not sure" where that counts as yes? */
export function dangerNow(k: Knowledge, facts: CaseFacts, fact: string): boolean {
  const told = newest(facts, fact);
  if (told) return isDanger(k, fact, told.value);
  const asked = facts.asked.get(fact);
  return asked !== undefined && asked !== 'later' && k.facts.get(fact)?.unsureIs !== undefined;
}

/** Does a stop that stands now follow from this reading? */
export const carriesStop = (at: Standing, seq: number): boolean => at.c.stops.some((s) => s.readings?.includes(seq));

/** Does this answer tell of a danger, in words or as "not sure" where that counts as the danger? */
export const tellsDanger = (k: Knowledge, a: Answer | Draft): boolean =>
  isTold(a) ? isDanger(k, a.fact, a.value) : a.act === 'unsure' && k.facts.get(factIn(a) ?? '')?.unsureIs !== undefined;
