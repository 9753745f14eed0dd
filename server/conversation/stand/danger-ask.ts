import { factIn } from '../../../rules/index.ts';
import type { Answer, Check, Knowledge, Note } from '../../../rules/types.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import type { Ask } from '../../types.ts';
import asks from './asks-danger.json' with { type: 'json' };
import { dangerNow } from './dangers.ts';
import { type Draft, isNoteOf, waiting } from './notes.ts';
import type { Saying } from './said.ts';
import { shortAsk } from './short-ask.ts';
import { newest } from './standing.ts';

/** The ask about dangers that words may have told: one danger at a time. */
export const DANGER = 'danger';

const YES: Readonly<Record<string, readonly string[]>> = asks.yes;

/** The facts a note of half-heard dangers waits on; the first is asked. Those answered since the note are gone. */
export function suspectsIn({ k, at }: Pick<Saying, 'k' | 'at'>, waits: DangerNote): string[] {
  return waits.facts.filter(
    (fact) => k.facts.get(fact)?.danger?.length && !at.answers.some((a) => a.seq > waits.seq && factIn(a) === fact),
  );
}

type DangerNote = Extract<Note, { note: typeof DANGER }>;
/** A note that waits on these dangers, the one to ask about first. */
export const dangerNote = (facts: string[], said: string): Draft => ({ act: 'note', note: DANGER, facts, said });
/** How often this danger was the one asked about. */
const timesAsked = (answers: readonly Answer[], fact: string): number =>
  answers.filter((a) => isNoteOf(a, DANGER) && a.facts[0] === fact).length;

/** How many plain no's end the asking about one danger; a word of it ends a no told before, so it is asked anew until then. */
const MOST_NOES = 2;

/** Is this danger worth a question? Not one that stands already, nor one that was denied each time it was asked about. */
export function worthAsking({ k, at }: Pick<Saying, 'k' | 'at'>, fact: string): boolean {
  if (!k.facts.get(fact)?.danger?.length || dangerNow(k, at.facts, fact)) return false;
  return timesAsked(at.answers, fact) < MOST_NOES;
}

/** One short question about just that danger, while one waits for its answer. Yes is the danger, a plain no clears this one alone. */
export function dangerAsk(x: Saying): Ask | undefined {
  const { k, s, at } = x;
  const waits = waiting(at.answers, DANGER);
  const [fact] = waits && !at.c.stops.length ? suspectsIn(x, waits) : [];
  if (fact === undefined) return undefined;
  const yes = YES[fact] ?? k.facts.get(fact)!.danger!;
  const no = safeChoice(k, fact);
  const label = (value: string) => (yes.length > 1 ? s.choice(fact, value) : s.say('danger-yes'));
  const text = s.danger(fact);
  const choices = [
    ...yes.map((value) => ({ id: value, label: label(value), fact })),
    ...(no === undefined ? [] : [{ id: no, label: s.say('danger-no'), fact }]),
  ];
  return {
    ...shortAsk(DANGER, text, s.say('danger-why'), choices),
    about: { signs: [fact] },
    ...(s.audience === 'agent' && { script: text }),
  };
}

/** How often one danger is asked before silence counts as "not sure". */
const MOST_ASKED = 2;

/**
 * What a turn leaves of the dangers that wait: those not told now are asked on; one asked twice and answered with something else
 * counts as not sure.
 */
export function stillWaiting(x: Saying, drafts: readonly Draft[]): Draft[] {
  const pending = waiting(x.at.answers, DANGER);
  if (!pending || drafts.some((d) => d.act === 'undo' || isNoteOf(d, DANGER))) return [];
  const before = suspectsIn(x, pending);
  const left = before.filter((fact) => !drafts.some((d) => factIn(d) === fact));
  const [first] = left;
  if (first === undefined) return [];
  const asked = timesAsked(x.at.answers, first);
  if (first !== before[0] || asked < MOST_ASKED) return [dangerNote(left, pending.said)];
  const rest = left.slice(1);
  const unsure: Draft = { act: 'unsure', about: { fact: first }, said: pending.said };
  return rest.length ? [unsure, dangerNote(rest, pending.said)] : [unsure];
}

/** An answer to the short question by its own name ("danger": yes, none) as an answer to the fact it is about. */
export function ofDanger(ask: Ask | undefined, input: AnswerInput): AnswerInput {
  const fact = ask?.check === DANGER ? ask.about?.signs[0] : undefined;
  if (fact === undefined || input.fact !== DANGER) return input;
  if (input.value === undefined) return { ...input, fact };
  const no = ask!.choices.at(-1)?.id;
  const value = input.value === 'none' || input.value === 'no' ? no : input.value === 'yes' ? ask!.choices[0]?.id : input.value;
  return { ...input, fact, ...(value !== undefined && { value }) };
}

/** The dangers a list of the knowledge asks about and nobody has told yet; none = it is no list of dangers. */
export function signsOf({ k, at }: Pick<Saying, 'k' | 'at'>, check: Check): string[] {
  if (check.kind !== 'gate' || !check.choices) return [];
  return check.settles.filter((fact) => k.facts.get(fact)?.danger?.length && !newest(at.facts, fact));
}

/** The answer of somebody who saw no such danger: as "none of these" gives it, else the first choice that is none. */
export function safeChoice(k: Knowledge, fact: string): string | undefined {
  for (const c of k.checks.values()) if (c.choices?.none?.[fact] !== undefined) return c.choices.none[fact];
  const f = k.facts.get(fact);
  return f?.choices?.find((c) => !f.danger?.includes(c) && !f.noEvidence?.includes(c));
}

/** What a half no to a list of dangers clears: people alone, or what can only be now. */
export const clearedBy = (of: 'people' | 'now'): readonly string[] => asks[of];
