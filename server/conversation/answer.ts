import type { WhyUnanswered } from '../../rules/types.ts';
import type { AnswerInput, Turn } from '../conversation-port.ts';
import type { CaseRecord } from '../types.ts';
import { type Context, refused } from './context.ts';
import { finish, whichAgain } from './finish.ts';
import { enter } from './hear/door.ts';
import { hear } from './hear/hear.ts';
import { doorwayOf } from './hear/listen.ts';
import { allStays, entered, settle } from './settle.ts';
import { COMPLAINT } from './stand/ask.ts';
import { ofDanger } from './stand/danger-ask.ts';
import type { Moment } from './stand/moment.ts';
import { waiting } from './stand/notes.ts';
import { chosen, picked } from './stand/option.ts';
import { READ_BACK, readBackNote } from './stand/read-back.ts';
import type { Saying } from './stand/said.ts';
import { WHICH } from './stand/which.ts';
import type { SayName } from './words/names.ts';

/** One structured answer. */
export async function answer(context: Context, record: CaseRecord, given: AnswerInput): Promise<Turn> {
  const before = await context.at(record);
  const input = ofDanger(before.danger, given);
  const said = inWords(before, input);
  const unanswered = input.act !== undefined && input.act !== 'tell';
  if (unanswered && (input.fact === READ_BACK || input.fact === WHICH)) return allStays(context, record, before, said);
  const back = input.fact === READ_BACK ? waiting(before.at.answers, 'read-back') : undefined;
  const { value } = input;
  const is = (['yes', 'no'] as const).find((word) => word === value);
  if (back && is) return settle(context, record, before, back, is, is);
  if (input.fact === WHICH) return pickOne(context, record, before, String(value), said);
  return entered(context, record, before, enter(doorwayOf(before), input, said));
}

/** One of the meanings asked back, by its number or label. */
async function pickOne(context: Context, record: CaseRecord, before: Moment, value: string, said: string): Promise<Turn> {
  const which = await whichAgain(context, record, before);
  const pick = which && chosen(which.options, value);
  if (!pick) return refused(before, { code: 'which-reading', put: {} });
  const acts = picked(pick);
  const heard = hear(doorwayOf(before), acts, said);
  const [bad] = heard.wrong;
  if (bad) return refused(before, bad);
  const drafts = heard.liftsStop ? [...heard.drafts, readBackNote(heard.liftsStop)] : heard.drafts;
  const happened = { beforeAsk: before.open, talk: heard.talk };
  return finish(context, record, before, { drafts, happened, understood: { acts, left: [] } });
}

const UNANSWERED: Record<WhyUnanswered, SayName> = {
  unsure: 'said-unsure',
  declined: 'said-declined',
  later: 'said-later',
};

/** What a structured answer says, as the person saw it on the button. */
function inWords({ k, s }: Saying, { fact, value, act = 'tell', unit }: AnswerInput): string {
  if (value === undefined) return act === 'tell' ? '' : s.say(UNANSWERED[act]);
  if (fact === COMPLAINT) return s.family(String(value));
  const list = s.check(fact)?.choices;
  if (list && typeof value === 'string')
    return value
      .split(/[\s,]+/)
      .map((id) => (list[id] ? s.to(list[id]) : id))
      .join('; ');
  if (typeof value === 'number') return `${value} ${unit ?? k.facts.get(fact)?.unit ?? ''}`.trim();
  return s.choice(fact, value);
}
