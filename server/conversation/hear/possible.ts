import type { CaseFacts, Fact, Knowledge } from '../../../rules/types.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import { badNumber } from '../stand/bad-number.ts';
import type { Wrong } from '../stand/plate.ts';

/** What is wrong with an answer to this fact, or nothing: nothing given, not this person's to tell, not on this machine, not a value of it. */
export function impossible(k: Knowledge, facts: CaseFacts, fact: Fact, input: AnswerInput): Wrong | undefined {
  const { value } = input;
  if (value === undefined) return { code: 'nothing-to-give', put: { fact: fact.id } };
  if (mayNotTell(k, facts, fact)) return { code: 'not-yours', put: { fact: fact.id } };
  if (input.state !== undefined && !k.states.has(input.state))
    return { code: 'no-such-state', put: { state: input.state, states: [...k.states.keys()].join(', ') } };
  const point = input.points?.find((id) => !isPoint(k, id));
  if (point !== undefined) return { code: 'no-such-points', put: { point } };
  if (fact.kind !== 'choice') return badNumber(k, fact, value, input.unit, input.state);
  const choices = fact.choices ?? [];
  return choices.includes(String(value))
    ? undefined
    : { code: 'no-such-choice', put: { value: String(value), choices: choices.join(', ') } };
}

/**
 * A statement only some may make: a choice they are not among, which no check looks for and no machine is known by.
 * (A thing somebody saw or read is taken from anybody; a caution goes with it.)
 */
function mayNotTell(k: Knowledge, facts: CaseFacts, fact: Fact): boolean {
  if (fact.kind !== 'choice' || fact.whoCanTell.includes(facts.audience)) return false;
  if ([...k.machines.values()].some((m) => fact.id in m.knownBy)) return false;
  return ![...k.checks.values()].some((c) => c.settles.includes(fact.id) && c.level > 0);
}

const isPoint = (k: Knowledge, id: string): boolean =>
  k.supply.nodes.some((n) => n.id === id) || [...k.machines.values()].some((m) => m.nodes.some((n) => n.id === id));
