import { factsOf } from '../../../rules/index.ts';
import type { CaseFacts, Knowledge, Reading } from '../../../rules/types.ts';
import { tellsDanger } from '../stand/dangers.ts';
import type { Draft } from '../stand/notes.ts';
import { newest, type Standing } from '../stand/standing.ts';
import talkFacts from './talk-facts.json' with { type: 'json' };

const MADE_SAFE = talkFacts.saysOf['made-safe'];

export const isMadeSafe = (fact: string, value: unknown): boolean => fact === MADE_SAFE.fact && value === MADE_SAFE.value;

/** "Made safe" was said of the dangers told until then: one told now takes it back. */
export function safeNoMore(k: Knowledge, facts: CaseFacts, drafts: readonly Draft[]): Draft[] {
  const danger = drafts.find((draft) => tellsDanger(k, draft));
  return danger ? notSafe(k, newest(facts, MADE_SAFE.fact), danger.said) : [];
}

/** The same for a danger that a reading shows: what was found since, or found in one more reading. */
export function safeNoMoreRead(k: Knowledge, before: Standing, after: Standing): Draft[] {
  const told = newest(before.facts, MADE_SAFE.fact);
  if (!told) return [];
  const had = new Set(before.c.found.flatMap((f) => f.readings.map((seq) => `${f.finding} ${seq}`)));
  const stops = new Set(k.rules.stops.filter((r) => r.then.stop !== undefined).flatMap((r) => factsOf(r.when)));
  const more = after.c.found.find((f) => stops.has(f.finding) && f.readings.some((seq) => !had.has(`${f.finding} ${seq}`)));
  const reading = more && after.facts.readings.find((r) => r.seq === more.readings.at(-1));
  return reading ? notSafe(k, told, reading.said) : [];
}

function notSafe(k: Knowledge, told: Reading | undefined, said: string): Draft[] {
  if (!told || !isMadeSafe(told.fact, told.value)) return [];
  const not = k.facts.get(told.fact)?.choices?.find((choice) => choice !== told.value);
  return not === undefined ? [] : [{ act: 'correct', of: told.seq, fact: told.fact, value: not, said }];
}
