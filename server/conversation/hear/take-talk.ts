import { factIn } from '../../../rules/index.ts';
import type { Knowledge } from '../../../rules/types.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import type { Ask, Talk } from '../../types.ts';
import { note, noted } from '../stand/notes.ts';
import { newest } from '../stand/standing.ts';
import { unanswered } from './from-list.ts';
import { type Act, type Hearing, take } from './hearing.ts';
import { toOtherSide } from './other-side.ts';
import talkFacts from './talk-facts.json' with { type: 'json' };

/** Kinds of talk that state a fact as well. */
const STATES: Partial<Record<Talk, { fact: string; value: string }>> = talkFacts.saysOf;

/** Talk beside answers: what it says of the open question or states is taken, the rest is answered. */
export function takeTalk(h: Hearing, { what, of }: Act<'talk'>): void {
  const alone = h.acts.length === 1;
  switch (what) {
    case 'correct':
      takeCorrection(h, of, alone);
      return;
    case 'yes':
    case 'no':
      if (alone) takeYesNo(h, what);
      return;
    case 'unsure':
    case 'declined':
    case 'later':
    case 'no-meter':
      takeStatement(h, what);
      takeNoAnswer(h, what);
      return;
    default:
      if (what === 'person') h.heard.drafts.push(noted('visit_wanted', 'yes', h.said));
      if (!takeStatement(h, what)) h.heard.talk.push(of === undefined ? { what } : { what, of });
  }
}

/** "No wait, it was warm then cold" has put it right in the same breath; "the other side" is put right here. */
function takeCorrection(h: Hearing, of: string | undefined, alone: boolean): void {
  const { heard } = h;
  const what = 'correct';
  if (of === 'other-side') {
    const moved = toOtherSide(h.d, h.said);
    if (moved.length) heard.drafts.push(...moved);
    else if (alone) heard.talk.push({ what });
    return;
  }
  if (heard.drafts.length) return;
  if (!takeStatement(h, what)) heard.talk.push(of === undefined ? { what } : { what, of });
}

function takeYesNo(h: Hearing, what: 'yes' | 'no'): void {
  const { k, ask } = h.d;
  const input = ask && yesNo(k, ask, what);
  if (input) take(h, input);
  else h.heard.talk.push({ what });
}

/** "Yes" and "no" answer a question whose choices are just that; a list of dangers takes its no elsewhere. */
function yesNo(k: Knowledge, ask: Ask, what: 'yes' | 'no'): AnswerInput | undefined {
  const check = k.checks.get(ask.check);
  if (!check || ask.about) return undefined;
  if (check.choices) return what === 'no' ? { fact: check.id, value: 'none' } : undefined;
  const fact = ask.choices[0]?.fact;
  return fact && ask.choices.some((c) => c.id === what) ? { fact, value: what } : undefined;
}

/** @returns whether this kind of talk states a fact at all */
function takeStatement(h: Hearing, what: Talk): boolean {
  const { k, at } = h.d;
  const states = STATES[what];
  if (!states) return false;
  const may = what !== 'no-meter' || k.facts.get(states.fact)?.whoCanTell.includes(at.facts.audience);
  const just = h.heard.drafts.some((draft) => factIn(draft) === states.fact);
  if (may && !just && newest(at.facts, states.fact)?.value !== states.value) take(h, states);
  return true;
}

/** No answer to the open question. Dangers are not put off: a list of them is asked again before anything else. */
function takeNoAnswer({ d, said, heard }: Hearing, what: 'unsure' | 'declined' | 'later' | 'no-meter'): void {
  const { k, ask, at } = d;
  if (what === 'later' && ask?.about) {
    heard.drafts.push(note('not-understood', said));
    return;
  }
  const check = ask && k.checks.get(ask.check);
  const act = what === 'no-meter' ? 'declined' : what;
  if (check && !(what === 'no-meter' && !check.measure)) heard.drafts.push(...unanswered(at, check, act, said));
  heard.talk.push({ what });
}
