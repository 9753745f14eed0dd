import { orDidYouMean } from '../../rules/index.ts';
import type { Fact, Knowledge } from '../../rules/types.ts';

/** Holds names against the knowledge; what is wrong gathers in `problems`, one sentence each. */
export interface Names {
  problems: string[];
  /** One of these ids? `called`: what it should be one of. */
  one(where: string, called: string, id: string, among: Iterable<string>): boolean;
  fact(where: string, id: string): Fact | undefined;
  /** A fact, and one of its answers; without a value the fact alone. */
  answer(where: string, id: string, value: string | undefined): void;
  /** A fact that can tell of a danger, and one of its answers. */
  danger(where: string, id: string, value?: string): void;
}

/** @param noted  facts that are noted in passing and held by nobody */
export function namesOf(k: Knowledge, noted: ReadonlySet<string> = new Set()): Names {
  const problems: string[] = [];
  const one: Names['one'] = (where, called, id, among) => {
    const all = [...among];
    if (all.includes(id)) return true;
    problems.push(`${where}: there is no ${called} "${id}"${orDidYouMean(id, all)}`);
    return false;
  };
  const fact: Names['fact'] = (where, id) =>
    noted.has(id) || one(where, 'fact', id, [...k.facts.keys(), ...noted]) ? k.facts.get(id) : undefined;
  const answer: Names['answer'] = (where, id, value) => {
    const found = fact(where, id);
    if (found && value !== undefined && !found.choices?.includes(value))
      problems.push(`${where}: "${value}" is no answer of "${id}"${orDidYouMean(value, found.choices ?? [])}`);
  };
  const danger: Names['danger'] = (where, id, value) => {
    answer(where, id, value);
    if (noted.has(id) || (k.facts.has(id) && !k.facts.get(id)!.danger?.length))
      problems.push(`${where}: "${id}" is no danger of the knowledge`);
  };
  return { problems, one, fact, answer, danger };
}
