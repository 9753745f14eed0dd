/** The shapes the page uses by name, all taken from what the server says it sends. */
import type { AnswerInput, TakenTurn } from '../server/conversation-port.ts';
import type { CaseView } from '../server/types.ts';

export type { Audience, Band, Unit, Value, VerdictWord } from '../rules/types.ts';

import type { Audience } from '../rules/types.ts';

export type Units = CaseView['units'];
/** One answer still standing, as the record shows it. */
export type Line = CaseView['answers'][number];
/** Ways to give no answer. */
export type NoAnswer = Exclude<NonNullable<AnswerInput['act']>, 'tell'>;

/** A case as it stands, as the routes send it. */
export interface Opened {
  case: CaseView;
  reply: TakenTurn['reply'];
}
export interface TurnTaken extends Opened {
  understood: TakenTurn['understood'];
}
/** One step of an invented talk: either words or a structured answer. */
export interface DemoStep {
  say?: string;
  answer?: AnswerInput;
}
export interface DemoTalk {
  name: string;
  title: string;
  scenario: string;
  audience: Audience;
  steps: DemoStep[];
}
