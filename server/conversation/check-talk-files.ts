import type { Knowledge } from '../../rules/types.ts';
import { namesOf } from '../understand/check-names.ts';
import { LexiconError } from '../understand/index.ts';
import talkFacts from './hear/talk-facts.json' with { type: 'json' };
import job from './show/job-fields.json' with { type: 'json' };
import asks from './stand/asks-danger.json' with { type: 'json' };

/** The small files of the conversation that speak of facts. */
export interface TalkFiles {
  asks: { yes: Record<string, string[]>; people: string[]; now: string[] };
  talkFacts: {
    saysOf: Record<string, { fact: string; value: string }>;
    saysToo: Record<string, Record<string, Record<string, string>>>;
  };
  job: { plateFact: string };
}
const OURS: TalkFiles = { asks, talkFacts, job };

/** Facts and answers in the conversation's own files that the knowledge does not hold: one sentence each. */
export function talkFileProblems(k: Knowledge, { asks, talkFacts, job }: TalkFiles = OURS): string[] {
  const names = namesOf(k);
  for (const [fact, dangers] of Object.entries(asks.yes))
    for (const value of dangers) {
      const at = `conversation/stand/asks-danger.json, yes.${fact}`;
      names.danger(at, fact, value);
      if (k.facts.get(fact)?.choices?.includes(value) && !k.facts.get(fact)!.danger?.includes(value))
        names.problems.push(`${at}: "${value}" is no danger; they are ${k.facts.get(fact)!.danger?.join(', ')}`);
    }
  for (const key of ['people', 'now'] as const)
    for (const fact of asks[key]) names.danger(`conversation/stand/asks-danger.json, ${key}`, fact);
  for (const [talk, { fact, value }] of Object.entries(talkFacts.saysOf))
    names.answer(`conversation/hear/talk-facts.json, saysOf.${talk}`, fact, value);
  for (const [fact, by] of Object.entries(talkFacts.saysToo))
    for (const [value, also] of Object.entries(by)) {
      const at = `conversation/hear/talk-facts.json, saysToo.${fact}`;
      names.answer(at, fact, value);
      for (const [id, answer] of Object.entries(also)) names.answer(`${at}.${value}`, id, answer);
    }
  names.fact('conversation/show/job-fields.json, plateFact', job.plateFact);
  return names.problems;
}

/** @throws LexiconError with every problem */
export function checkTalkFiles(k: Knowledge): void {
  const problems = talkFileProblems(k);
  if (problems.length) throw new LexiconError(problems);
}
