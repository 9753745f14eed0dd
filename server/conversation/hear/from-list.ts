import type { Check, Knowledge, WhyUnanswered } from '../../../rules/types.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import { dangerNow, isDanger } from '../stand/dangers.ts';
import type { Draft, ToldDraft } from '../stand/notes.ts';
import type { Wrong } from '../stand/plate.ts';
import { newest, type Standing } from '../stand/standing.ts';

/** What a list comes to; `lifts`: an entry that would lift a danger, which is then entered alone. */
export type Listed = { drafts: Draft[] } | { wrong: Wrong } | { lifts: { fact: string; value: string } };
type ListAnswer = Pick<AnswerInput, 'act' | 'value'>;

/**
 * A list: each entry picked gives its answers, and what was not picked is as "none" says, for the whole list was read.
 * "none" alone never takes back what was told before.
 */
export function fromList(k: Knowledge, at: Standing, check: Check, input: ListAnswer, said: string, whole: boolean): Listed {
  const picked = pickedOf(input);
  const act = input.act ?? 'tell';
  if (act !== 'tell') return { drafts: unanswered(at, check, act, said) };
  if (picked.length === 1 && picked[0] === 'unsure') return { drafts: unanswered(at, check, 'unsure', said) };
  const bad = notListed(check, picked);
  if (bad) return { wrong: bad };
  const told = givenBy(check, picked).filter(([fact, value]) => newest(at.facts, fact)?.value !== value);
  const lifting = told.find(([fact, value]) => dangerNow(k, at.facts, fact) && !isDanger(k, fact, value));
  if (lifting) return { lifts: { fact: lifting[0], value: lifting[1] } };
  const left = whole || picked.includes('none') ? leftOf(k, at, check, picked) : [];
  return { drafts: [...told, ...left].map(([fact, value]) => toldFrom(at, check, fact, value, said)) };
}

const pickedOf = ({ value = '' }: ListAnswer): string[] =>
  String(value)
    .split(/[\s,]+/)
    .filter(Boolean);

function notListed(check: Check, picked: readonly string[]): Wrong | undefined {
  const choices = check.choices ?? {};
  const unknown = picked.find((id) => !Object.hasOwn(choices, id));
  if (unknown === undefined && picked.length && !(check.oneOf && picked.length > 1)) return undefined;
  return { code: 'no-such-choice', put: { value: unknown ?? '', choices: Object.keys(choices).join(', ') } };
}

/** Fact and value of every entry picked; of two that tell the same fact the later. */
function givenBy(check: Check, picked: readonly string[]): [fact: string, value: string][] {
  const given = picked.filter((id) => id !== 'none').flatMap((id) => Object.entries(check.choices?.[id] ?? {}));
  return [...new Map(given)];
}

/** What "none" says of everything that was seen and left. */
function leftOf(k: Knowledge, at: Standing, check: Check, picked: readonly string[]): [fact: string, value: string][] {
  const given = new Set(givenBy(check, picked).map(([fact]) => fact));
  const untold = (fact: string) => !given.has(fact) && !newest(at.facts, fact) && !dangerNow(k, at.facts, fact);
  return Object.entries(check.choices?.none ?? {}).filter(([fact]) => untold(fact));
}

function toldFrom(at: Standing, check: Check, fact: string, value: string, said: string): Draft {
  const before = newest(at.facts, fact);
  const draft: ToldDraft = { act: 'tell', fact, value, check: check.id, said };
  return before ? { ...draft, act: 'correct', of: before.seq } : draft;
}

/** "Not sure" to a list is said of each of its facts: one of them answered later must not answer for the others. */
export function unanswered(at: Standing, check: Check, act: WhyUnanswered, said: string): Draft[] {
  if (!check.choices || act === 'later') return [{ act, about: { check: check.id }, said }];
  const untold = check.settles.filter((fact) => !newest(at.facts, fact));
  return untold.map((fact) => ({ act, about: { fact, check: check.id }, said }));
}
